// Seedlings tallied frame by frame. Every tap is kept at once; seedlings a square metre are the book's to work out.
import { entryFrom, keepAndTell } from "./capture.js";
import { dayOfPage, recall, remembered, retain, tick } from "./phone.js";
import { zoneChoice } from "./zones.js";

const HELD = "seedlings";
const page = document.getElementById("tally"), words = page.dataset;
const $ = (id) => document.getElementById(id);
const chosen = (name) => page.querySelector(`input[name=${name}]:checked`).value;
const sum = (taps) => taps.reduce((all, each) => all + each, 0);
const zoneOf = zoneChoice(page);
let held = recall(HELD, null);

function show(isCounting) {
  $("choose").hidden = isCounting;
  $("count").hidden = !isCounting;
  document.documentElement.classList.toggle("kneeling", isCounting);
}

function draw() {
  show(true);
  const taps = held.frames.at(-1), before = held.frames.slice(0, -1).map(sum);
  $("at").textContent = `${held.zone}, ${words.frame} ${held.frames.length}`;
  $("far").textContent = `${words.seedlings} ${sum(taps)}`;
  $("sum").textContent = before.length ? `${words.before} ${before.join(", ")}` : "";
  $("back").disabled = taps.length === 0 && held.frames.length === 1;
}

function change(work, index) {
  work();
  retain(HELD, held);
  tick(index);
  draw();
}

function begin() {
  held = { zone: zoneOf(), side: chosen("side"), frames: [[]] };
  retain(HELD, held);
  draw();
  $("one").focus({ preventScroll: true });
}

function back() {
  const taps = held.frames.at(-1);
  if (taps.length) taps.pop();
  else if (held.frames.length > 1) held.frames.pop();
}

// A frame in which nothing was tapped counts as none found, but for the last, which was only begun.
async function keepAll() {
  const frames = held.frames.map(sum);
  if (frames.length > 1 && !held.frames.at(-1).length) frames.pop();
  const entry = entryFrom({
    kind: "seedlings", zone: held.zone, when: dayOfPage(), who: remembered("who"), says: words.says,
    fields: { frames: frames.join(", "), side_mm: held.side },
    words: `${frames.length} ${words.frames}: ${frames.join(", ")}`,
  });
  held = null;
  retain(HELD, null);
  show(false);
  await keepAndTell(entry);
}

$("begin").addEventListener("click", begin);
$("one").addEventListener("click", () => change(() => held.frames.at(-1).push(1), 0));
$("five").addEventListener("click", () => change(() => held.frames.at(-1).push(5), 3));
$("next").addEventListener("click", () => change(() => held.frames.push([]), 5));
$("back").addEventListener("click", () => change(back, -1));
$("keep").addEventListener("click", keepAll);
if (held) draw();
