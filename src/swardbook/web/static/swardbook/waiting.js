// Shows what waits on this phone, pictures too; throwing away takes two taps.
import { drop, dropFile, filesWaiting, waiting } from "./outbox.js";

const page = document.getElementById("box"), words = page.dataset;
const list = document.getElementById("list"), nothing = document.getElementById("nothing");
let addresses = [], drawn = null;

const make = (name, text, of = "") => Object.assign(document.createElement(name), { textContent: text, className: of });

function thrown(work) {
  const button = make("button", words.throw, "second");
  button.type = "button";
  button.addEventListener("click", async () => {
    if (button.textContent === words.throw) {
      button.textContent = words.sure;
      return;
    }
    await work();
    document.dispatchEvent(new Event("swardbook:waits"));
    await show();
  });
  return button;
}

function entryLine(entry) {
  const line = document.createElement("li");
  const told = entry.words ? `: ${entry.words}` : "";
  line.append(make("span", `${entry.says}, ${entry.zone || words.site}${told}. ${entry.said_on}`, "told"),
    thrown(() => drop(entry.id)));
  return line;
}

function fileLine(file) {
  const line = document.createElement("li"), address = URL.createObjectURL(file.blob);
  addresses.push(address);
  const isPicture = file.what === "picture", size = Math.ceil(file.blob.size / 1000);
  const seen = document.createElement(isPicture ? "img" : "audio");
  seen.src = address;
  if (isPicture) Object.assign(seen, { alt: "", width: 96 });
  else seen.controls = true;
  const told = make("span", `${isPicture ? words.picture : words.voice}, ${file.peg || file.plot || file.zone || words.site}, ${size} ${words.kb}. ${file.when}`, "told");
  line.append(seen, told);
  if (file.stuck) {
    const saved = make("a", words.save, "button second");
    Object.assign(saved, { href: address, download: file.name });
    line.append(make("span", `${words.stuck} ${file.stuck}`, "mind"), saved);
  }
  line.append(thrown(() => dropFile(file.id)));
  return line;
}

async function show() {
  const [entries, files] = await Promise.all([waiting(), filesWaiting()]);
  const state = JSON.stringify([...entries, ...files].map((each) => [each.id, each.stuck]));
  if (state === drawn) return;
  drawn = state;
  for (const each of addresses) URL.revokeObjectURL(each);
  addresses = [];
  list.replaceChildren(...entries.map(entryLine), ...files.map(fileLine));
  nothing.hidden = entries.length + files.length > 0;
}

document.addEventListener("swardbook:sent", show);
await show();
