// What this phone was told of its look, its hand, its sounds: shown at once, kept here.
import { remember, remembered, tick } from "./phone.js";

const form = document.getElementById("phone"), root = document.documentElement;
const USUAL = { look: "", hand: "right", sounds: "on", buzz: "on" };

for (const [name, usual] of Object.entries(USUAL)) {
  const held = remembered(name, usual);
  for (const each of form.elements[name]) each.checked = each.value === held;
}
form.elements.who.value = remembered("who");
form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("change", (event) => {
  const { name, value } = event.target;
  remember(name, value.trim());
  root.classList.remove("light", "dark", "outdoor", "hand-left", "hand-right");
  if (remembered("look")) root.classList.add(remembered("look"));
  root.classList.add(remembered("hand", "right") === "left" ? "hand-left" : "hand-right");
});
document.getElementById("try").addEventListener("click", () => {
  for (let index = 0; index < 6; index += 1) setTimeout(() => tick(index), 450 * index);
});
