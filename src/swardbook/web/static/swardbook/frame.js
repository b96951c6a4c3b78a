// A frame counted with one thumb. Every tap is kept at once, so that a closed page goes on where it was.
import { entryFrom, keepAndTell } from "./capture.js";
import { dayOfPage, recall, remember, remembered, retain, tick } from "./phone.js";
import { zoneChoice } from "./zones.js";

const HELD = "frame", DONE = "frames";
const page = document.getElementById("tally"), words = page.dataset;
const zones = JSON.parse(words.tally);
const $ = (id) => document.getElementById(id);
const NO_ZERO = ["other", "cannot tell"];
let frame = recall(HELD, null);

// A frame that lies here from a zone or a list of kinds that is no more is finished by what it holds.
const about = () => zones[frame.zone] || { kinds: frame.kinds, crossings: frame.crossings };
const kinds = () => frame.kinds || about().kinds;
const left = () => about().crossings - frame.taps.length;

function show(name) {
  for (const id of ["choose", "count", "sure"]) $(id).hidden = id !== name;
  document.documentElement.classList.toggle("kneeling", name !== "choose");
}

// Where the keyboard goes on: what it was on is not shown any more.
const goOn = (button) => button?.focus({ preventScroll: true });
const goOnCounting = () => goOn(left() > 0 ? $("kinds").firstElementChild : $("keep"));

function chooseZone(zone) {
  for (const each of page.querySelectorAll(".places")) each.hidden = each.dataset.zone !== zone;
}

// How often a place was counted on this phone today: the next frame there is the next placement.
function placed(zone, place) {
  const done = recall(DONE, {});
  return done.day === dayOfPage() ? done.at?.[`${zone}|${place}`] || 0 : 0;
}

function note(zone, place) {
  const done = recall(DONE, {}), day = dayOfPage();
  const at = done.day === day ? done.at || {} : {};
  at[`${zone}|${place}`] = (at[`${zone}|${place}`] || 0) + 1;
  retain(DONE, { day, at });
}

function begin(zone, place) {
  const spot = place || `${words.spot} ${placed(zone, "") + 1}`;
  frame = {
    zone, place: spot, isSpot: !place, placement: placed(zone, spot) + 1, taps: [],
    kinds: zones[zone].kinds, crossings: zones[zone].crossings,
  };
  remember("zone", zone);
  retain(HELD, frame);
  draw();
  goOnCounting();
}

function sum() {
  const found = Object.fromEntries(kinds().filter(([key]) => !NO_ZERO.includes(key)).map(([key]) => [key, 0]));
  for (const key of frame.taps) found[key] = (found[key] || 0) + 1;
  return found;
}

const wordOf = (key) => (kinds().find(([each]) => each === key) || [key, key])[1];

function draw() {
  show("count");
  $("at").textContent = `${frame.place}, ${frame.zone}, ${words.frame} ${frame.placement}`;
  $("far").textContent = `${frame.taps.length} ${words.of} ${about().crossings}`;
  const last = frame.taps.at(-1);
  const isFull = left() <= 0;
  $("last").textContent = isFull ? words.full : last ? wordOf(last) : "";
  const found = sum();
  $("sum").textContent = frame.taps.length
    ? kinds().filter(([key]) => found[key]).map(([key, word]) => `${word} ${found[key]}`).join(", ") : "";
  $("back").disabled = frame.taps.length === 0;
  $("kinds").hidden = isFull;
  $("full").hidden = !isFull;
  if ($("kinds").dataset.zone !== frame.zone || !$("kinds").children.length) drawKinds();
}

function drawKinds() {
  $("kinds").dataset.zone = frame.zone;
  $("kinds").replaceChildren(...kinds().map(([key, word], index) => {
    const button = Object.assign(document.createElement("button"), { type: "button", textContent: word });
    button.className = `second kind kind-${index % 4}`;
    button.addEventListener("click", () => tap(key, index));
    return button;
  }));
}

function tap(key, index) {
  if (left() <= 0) return;
  frame.taps.push(key);
  retain(HELD, frame);
  tick(index);
  draw();
  if (left() <= 0) goOnCounting();
}

function end() {
  frame = null;
  retain(HELD, null);
  show("choose");
}

async function keepFrame() {
  if (!frame || left() > 0) return;
  const found = sum(), who = remembered("who");
  const entry = entryFrom({
    kind: "count", zone: frame.zone, when: dayOfPage(), who, says: words.says,
    fields: {
      place: frame.place, points: String(about().crossings), placement: String(frame.placement),
      found: Object.entries(found).map(([key, many]) => `${key}=${many}`).join(", "),
    },
    words: `${frame.place}, ${kinds().filter(([key]) => found[key]).map(([key, word]) => `${word} ${found[key]}`).join(", ")}`,
  });
  note(frame.zone, frame.place);
  if (frame.isSpot) note(frame.zone, "");
  end();
  await keepAndTell(entry);
}

for (const each of page.querySelectorAll("[data-place]"))
  each.addEventListener("click", () => begin(each.closest(".places").dataset.zone, each.dataset.place));
$("who").value = remembered("who");
$("who").addEventListener("change", () => remember("who", $("who").value.trim()));
$("back").addEventListener("click", () => {
  frame.taps.pop();
  retain(HELD, frame);
  tick(-1);
  draw();
  if ($("back").disabled) goOnCounting();
});
const goOnChoosing = () => goOn(page.querySelector(".places:not([hidden]) button"));
$("leave").addEventListener("click", () => {
  if (frame.taps.length) { show("sure"); goOn($("stay")); }
  else { end(); goOnChoosing(); }
});
$("stay").addEventListener("click", () => { draw(); goOnCounting(); });
$("go").addEventListener("click", () => { end(); goOnChoosing(); });
$("keep").addEventListener("click", keepFrame);
zoneChoice(page, chooseZone);
if (frame) draw();
