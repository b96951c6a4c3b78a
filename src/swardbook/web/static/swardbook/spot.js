// A spot by touch, tape or phone: the place is written as words, the entry goes into the outbox.
import { entryFrom, keepAndTell, withUnit } from "./capture.js";
import { apart, markLayer, sheetOf, short, told } from "./ground.js";
import { newId, remembered } from "./phone.js";
import { zoneChoice } from "./zones.js";

const form = document.getElementById("spot"), words = form.dataset, $ = (id) => document.getElementById(id);
const at = form.elements.at, said = $("where"), STEP = 0.1, SAME = 16;
const plans = new Map([...form.querySelectorAll(".touch")].map((box) => {
  const sheet = sheetOf(box);
  return [box.dataset.zone, { box, sheet, layer: markLayer(sheet), spots: JSON.parse(box.dataset.spots) }];
}));
let zone = "", touched = null, place = "";

function point(found, name = "") {
  touched = found;
  place = name;
  at.value = `${short(found.east)}, ${short(found.north)}`;
  show();
}

function show() {
  const plan = plans.get(zone);
  if (!plan) return;
  plan.layer.clear();
  if (touched) plan.layer.ring(touched);
  $("nudge").hidden = !touched;
  const known = plan.spots.find(([name]) => name === place);
  said.textContent = touched
    ? `${told(words.east, touched)}. ${known ? `${words.again} ${known[0]}, ${known[3]}.` : words.new}` : at.value;
}

const chosen = () => form.querySelector("input[name=did]:checked");

function asks() {
  for (const each of form.querySelectorAll("[data-for]")) each.hidden = each.dataset.for !== chosen().dataset.asks;
}

const zoneOf = zoneChoice(form, (name) => {
  zone = name;
  touched = null;
  place = at.value = "";
  for (const [each, { box }] of plans) box.hidden = each !== name;
  const lot = plans.get(name) && plans.get(name).box.dataset.lot;
  if (lot) form.elements.lot.value = lot;
  show();
});

for (const { box, sheet, spots } of plans.values()) box.addEventListener("click", (event) => {
  if (!event.target.closest("svg")) return;
  event.preventDefault();
  const found = sheet.metres(event);
  const near = spots.map(([name, east, north]) => ({ name, east, north }))
    .filter((each) => apart(each, found) <= sheet.near(SAME)).sort((one, other) => apart(one, found) - apart(other, found))[0];
  if (near) point({ east: near.east, north: near.north }, near.name);
  else point(found);
});

for (const each of document.querySelectorAll("[data-move]")) each.addEventListener("click", () => {
  const [east, north] = each.dataset.move.split(" ").map(Number);
  point({ east: touched.east + STEP * east, north: touched.north + STEP * north });
});

function taped() {
  const [one, two] = [$("one").value.trim().replace(",", "."), $("two").value.trim().replace(",", ".")];
  if (!one || !two) return;
  const side = form.querySelector("input[name=side]:checked").value;
  touched = null;
  at.value = `tape ${one} ${$("from-one").value}; ${two} ${$("from-two").value}${side ? `; ${side}` : ""}`;
  show();
  said.textContent = `${words.tape} ${at.value.replace("tape ", "")}`;
}
for (const id of ["one", "two", "from-one", "from-two"]) $(id).addEventListener("input", taped);
for (const each of form.querySelectorAll("input[name=side]")) each.addEventListener("change", taped);

$("phone").addEventListener("click", () => {
  const none = () => { said.textContent = words.nophone; };
  if (!navigator.geolocation) return none();
  navigator.geolocation.getCurrentPosition(({ coords }) => {
    touched = null;
    at.value = `phone ${coords.latitude.toFixed(6)} ${coords.longitude.toFixed(6)} ${coords.accuracy.toFixed(1)}`;
    show();
    said.textContent = `${words.phone} ${coords.accuracy.toFixed(0)} m.`;
  }, none, { enableHighAccuracy: true, timeout: 15_000 });
});

for (const each of form.querySelectorAll("input[name=did]")) each.addEventListener("change", asks);
asks();

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (!at.value.trim()) {
    said.textContent = words.nowhere;
    said.scrollIntoView({ block: "center" });
    return;
  }
  const job = chosen(), fields = JSON.parse(job.dataset.fields), ask = job.dataset.asks;
  if (ask && form.elements[ask].value) fields[ask] = withUnit(form.elements[ask].value, form.elements[`unit.${ask}`]?.value);
  const word = job.labels[0].textContent.trim();
  const entry = entryFrom({
    id: newId(), kind: job.dataset.kind, fields, zone: zoneOf(), note: form.elements.note.value, at: at.value,
    who: remembered("who"), private: form.elements.private.checked, says: word, words: said.textContent.replace(/\.$/, ""),
  });
  const plan = plans.get(zone);
  if (touched && !place) plan.spots.push([`${words.again} ${plan.spots.length + 1}`, touched.east, touched.north, word]);
  touched = null;
  place = at.value = form.elements.note.value = "";
  form.elements.private.checked = false;
  show();
  await keepAndTell(entry);
});
