// Which questions were answered on this device; nothing of it leaves it.
import { recall, retain } from "./phone.js";

const NAME = "course";
const told = document.getElementById("told"), list = document.getElementById("course");
const seen = () => recall(NAME, []);

if (told && !seen().includes(told.dataset.key)) retain(NAME, [...seen(), told.dataset.key]);

function draw() {
  const known = seen(), forget = document.getElementById("forget");
  for (const each of list.querySelectorAll("li")) {
    const word = each.querySelector(".seen");
    word.textContent = list.dataset.seen;
    word.hidden = !known.includes(each.dataset.key);
  }
  forget.hidden = known.length === 0;
}

if (list) {
  document.getElementById("forget").addEventListener("click", () => {
    retain(NAME, null);
    draw();
  });
  draw();
}
