// The shuffle on the screen: the names move over the plots, the ground stays as it is.
// Hands counted without signal open the reveal on this screen, wait on this phone, and are sent later.
import { entryFrom, keepAndTell } from "./capture.js";

const stage = document.getElementById("shuffle");

if (stage) {
  const words = stage.dataset, held = JSON.parse(words.dealt);
  const plan = document.getElementById("plan"), told = document.getElementById("dealt");
  let at = 0;

  const draw = () => {
    const shown = held.dealt[at], rows = new Map();
    held.plots.forEach((plot, n) => {
      const block = plot.split("-")[0];
      if (!rows.has(block)) rows.set(block, document.createElement("div"));
      const cell = Object.assign(document.createElement("span"), { textContent: shown.entries[n] });
      cell.classList.toggle("best", shown.entries[n] === shown.best);
      rows.get(block).append(cell);
    });
    plan.replaceChildren(...rows.values());
    const which = at === 0 ? words.sown : `${words.luck} ${at}`;
    told.textContent = `${which}: ${words.best} ${shown.best}; ${words.apart} ${shown.gap}`;
  };

  document.getElementById("deal").addEventListener("click", () => { at = at % (held.dealt.length - 1) + 1; draw(); });
  document.getElementById("sown").addEventListener("click", () => { at = 0; draw(); });
  draw();
}

function openReveal(section) {
  const reveal = section.querySelector(".reveal");
  reveal.hidden = false;
  reveal.open = true;
  section.querySelector(".not-yet")?.remove();
  section.scrollIntoView({ block: "start" });
}

// Numbers alone are kept, on this phone first; the book's own table of them comes once they were sent.
for (const section of document.querySelectorAll(".guessing")) {
  const form = section.querySelector("form");
  form?.addEventListener("submit", async (asked) => {
    asked.preventDefault();
    const counted = [...form.querySelectorAll("input[type=number]")].filter((each) => Number(each.value) > 0);
    if (!counted.length) return;
    const fields = Object.fromEntries(counted.map((each) => [each.name.replace(/^n /, ""), each.value]));
    const words = `${form.dataset.asks} ${counted.map((each) => `${each.labels[0].textContent.trim()} ${each.value}`).join(", ")}`;
    const entry = entryFrom({ kind: "guesses", fields: { ...fields, question: form.elements.question.value }, zone: form.dataset.zone, says: form.dataset.says, words });
    const sent = await keepAndTell(entry);
    if (sent) location.reload();
    else openReveal(section);
  });
}
