// Plants pulled, tallied in passes. Every tap is kept at once; how many are left is the book's to say.
import { entryFrom, keepAndTell } from "./capture.js";
import { dayOfPage, recall, remembered, retain, tick } from "./phone.js";
import { zoneChoice } from "./zones.js";

const HELD = "pull";
const page = document.getElementById("tally"), words = page.dataset;
const $ = (id) => document.getElementById(id);
const chosen = (name) => page.querySelector(`input[name=${name}]:checked`);
const zoneOf = zoneChoice(page);
let pass = recall(HELD, null);

function show(isCounting) {
  $("choose").hidden = isCounting;
  $("count").hidden = !isCounting;
  document.documentElement.classList.toggle("kneeling", isCounting);
}

const sum = () => pass.taps.reduce((all, each) => all + each, 0);
const minutes = () => Math.max(1, Math.round((Date.now() - pass.began) / 60_000));

function draw() {
  show(true);
  $("left").hidden = true;
  $("at").textContent = `${pass.zone}, ${pass.word}, ${words.pass} ${pass.name}`;
  $("far").textContent = `${words.many} ${sum()}`;
  $("last").textContent = `${minutes()} ${words.minutes}`;
  $("back").disabled = pass.taps.length === 0;
}

function begin(name) {
  const species = chosen("species"), zone = zoneOf();
  pass = {
    name, zone, species: species.value, word: species.labels[0].textContent.trim(),
    people: Number(chosen("people").value), began: Date.now(), taps: [],
  };
  retain(HELD, pass);
  draw();
  $("one").focus({ preventScroll: true });
}

function tap(many, index) {
  pass.taps.push(many);
  retain(HELD, pass);
  tick(index);
  draw();
}

async function keepPass() {
  const done = pass, took = minutes();
  const entry = entryFrom({
    kind: "pull", zone: done.zone, when: dayOfPage(), who: remembered("who"), says: words.says,
    hours: `${took * done.people} min`,
    fields: { species: done.species, plants: String(sum()), pass_name: done.name, people: String(done.people) },
    words: `${done.word}, ${words.pass} ${done.name}: ${sum()} ${words.plants}, ${took} ${words.minutes}`,
  });
  pass = null;
  retain(HELD, null);
  show(false);
  const sent = await keepAndTell(entry);
  await tellLeft(done, sent);
}

async function tellLeft(done, sent) {
  const lines = done.name === "A" ? [words.one] : (sent && await asked(done)) || [words.later];
  $("left").replaceChildren(...lines.map((line) => Object.assign(document.createElement("p"), { textContent: line })));
  $("left").hidden = false;
}

async function asked(done) {
  const address = words.left.replace("ZONE", encodeURIComponent(done.zone));
  try {
    const answer = await fetch(`${address}?species=${encodeURIComponent(done.species)}`, { credentials: "same-origin" });
    return answer.ok ? (await answer.json()).words : null;
  } catch {
    return null;
  }
}

for (const each of page.querySelectorAll("[data-pass]:not(#tally)")) each.addEventListener("click", () => begin(each.dataset.pass));
$("one").addEventListener("click", () => tap(1, 0));
$("five").addEventListener("click", () => tap(5, 3));
$("back").addEventListener("click", () => { pass.taps.pop(); retain(HELD, pass); tick(-1); draw(); });
$("keep").addEventListener("click", keepPass);
if (pass) draw();
