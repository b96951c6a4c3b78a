// What still waits on the phone of somebody who has left: counted, and sent to be decided about.
import { filesWaiting, send, waiting } from "./outbox.js";

const box = document.getElementById("left"), words = box.dataset;
const told = box.querySelector("b"), button = box.querySelector("button");

async function count() {
  const [entries, files] = await Promise.all([waiting(), filesWaiting()]);
  return entries.length + files.length;
}

async function show(after = "") {
  const many = await count();
  button.hidden = many === 0;
  told.textContent = many === 0 ? after || words.none : `${after ? `${words.later} ` : ""}${words.some.replace("0", many)}`;
}

button.addEventListener("click", async () => {
  button.disabled = true;
  await send();
  button.disabled = false;
  await show(words.sent);
});
await show();
