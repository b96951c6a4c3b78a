// The zone of a page: the one used last on this phone, folded away once it is chosen.
import { remember, remembered } from "./phone.js";

export function zoneChoice(page, changed = () => {}) {
  const fold = page.querySelector(".zone-choice"), all = [...fold.querySelectorAll("input")];
  const chosen = () => all.find((each) => each.checked) || all[0];
  const told = () => {
    fold.querySelector("[data-chosen]").textContent = chosen().labels[0].textContent.trim();
    changed(chosen().value);
  };
  const last = all.find((each) => each.value && each.value === remembered("zone"));
  if (last) {
    last.checked = true;
    fold.open = false;
  }
  for (const each of all) each.addEventListener("change", () => {
    remember("zone", each.value);
    fold.open = false;
    told();
  });
  told();
  return () => {
    remember("zone", chosen().value);
    return chosen().value;
  };
}
