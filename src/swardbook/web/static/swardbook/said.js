// Says what was kept, and offers to take it back for half a minute, also on the pages that follow.
import { takeBack } from "./outbox.js";
import { recall, retain } from "./phone.js";
import { pictureButton } from "./pictures.js";

const UNDO = 30_000, LAST = "last";
const said = document.getElementById("said");
let clock = null;

const part = (name, text, of) => Object.assign(document.createElement(name), { textContent: text, className: of || "" });

export function tell(entry, sent) {
  const last = recall(LAST, null);
  const until = last && last.entry.id === entry.id ? last.until : Date.now() + UNDO;
  retain(LAST, { entry, sent, until });
  draw(entry, sent, until);
  said.scrollIntoView({ block: "start" });
  said.focus();
}

// On the next page: the last that was kept, while its half minute runs.
export function offerBack() {
  const last = recall(LAST, null);
  if (!last || last.until <= Date.now() || !said.hidden) return;
  draw(last.entry, last.sent, last.until);
}

function draw(entry, sent, until) {
  const words = said.dataset;
  const told = entry.words ? `: ${entry.words}` : "";
  const text = part("p", `${entry.says}, ${entry.zone || words.site}${told}. ${sent ? words.sent : words.here}`);
  const parts = [part("h2", words.kept), text];
  if (sent && sent.has_clashed) parts.push(part("p", words.clash, "mind"));
  if (sent && sent.needs_a_look) parts.push(part("p", `${words.look} ${sent.needs_a_look}`, "mind"));
  const undo = part("button", words.undo, "second");
  undo.type = "button";
  undo.addEventListener("click", async () => {
    undo.remove();
    retain(LAST, null);
    text.textContent = (await takeBack(entry.id, entry.back_to)) ? words.back : words.later;
    document.dispatchEvent(new Event("swardbook:waits"));
  });
  clearTimeout(clock);
  clock = setTimeout(() => undo.remove(), Math.max(0, until - Date.now()));
  const row = part("div", "", "after");
  row.append(undo, ...(entry.kind === "attachment" ? [] : [pictureButton(entry)]));
  said.replaceChildren(...parts, row);
  said.hidden = false;
}
