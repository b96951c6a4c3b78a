// The shuffle on the screen: the names move over the plots, the ground stays as it is.
// Hands counted without signal open the reveal on this screen; they are kept when they are sent.
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

for (const section of document.querySelectorAll(".guessing")) {
  const form = section.querySelector("form"), reveal = section.querySelector(".reveal");
  form?.addEventListener("submit", (asked) => {
    if (navigator.onLine) return;
    asked.preventDefault();
    const some = [...form.querySelectorAll("input[type=number]")].some((each) => Number(each.value) > 0);
    if (!some) return;
    reveal.hidden = false;
    reveal.open = true;
    section.querySelector(".not-yet")?.remove();
  });
}
