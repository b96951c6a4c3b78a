// By seed lot, a touch asks what was ever sown at that place; else the links of the plan open as they are.
import { sheetOf, short } from "./ground.js";

const box = document.getElementById("plan"), sheet = sheetOf(box);
if (box.dataset.sown) box.addEventListener("click", (event) => {
  if (!event.target.closest("svg") || event.detail === 0) return;
  event.preventDefault();
  const { east, north } = sheet.metres(event);
  location.href = `${box.dataset.sown}?at=${encodeURIComponent(`${short(east)}, ${short(north)}`)}`;
});
