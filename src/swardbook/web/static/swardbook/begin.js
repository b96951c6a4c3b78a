// Fields of the first page are asked for in the units that are chosen on it. Without this script they stay as they are.
const asked = [...document.querySelectorAll("input[type=hidden][data-metric]")];

function show(units) {
  for (const each of asked) {
    each.value = each.dataset[units];
    each.closest("label").querySelector("span small").textContent = each.value;
  }
}

for (const each of document.querySelectorAll("input[name=units]"))
  each.addEventListener("change", () => show(each.value));
const chosen = document.querySelector("input[name=units]:checked");
if (chosen && asked.length) show(chosen.value);
