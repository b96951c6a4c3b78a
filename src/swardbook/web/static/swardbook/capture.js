// Forms of what was done are kept on the phone first, then sent. Without this script they are sent at once.
import { filesWaiting, home, isLoggedOut, keep, send, waiting } from "./outbox.js";
import { newId, dayOfPage } from "./phone.js";
import { offerBack, tell } from "./said.js";

const AGAIN = 30_000;
const box = document.getElementById("waits");

const many = (count, one, more) => count === 1 ? one : more.replace("0", count);

let looks = 0;

// From here on the number that stands there may be wrong, until it is counted anew.
function uncounted() {
  delete box.dataset.count;
  return ++looks;
}

// Of two counts under way the later one is shown: it knows more.
export async function showWaiting() {
  const look = uncounted();
  const [entries, files] = await Promise.all([waiting(), filesWaiting()]);
  if (look !== looks) return;
  const count = entries.length + files.length, words = box.dataset;
  words.count = count;
  box.hidden = count === 0;
  const told = [];
  if (entries.length) told.push(many(entries.length, words.entry, words.entries));
  if (files.length) told.push(many(files.length, words.file, words.files));
  box.querySelector("b").textContent = told.join(" ");
  const oldest = Math.min(...[...entries, ...files].map((each) => each.written), Date.now());
  const isOld = Date.now() - oldest > 2 * 86_400_000;
  box.querySelector("i").textContent = isOld ? words.old : "";
  document.getElementById("log-in-to-send").hidden = !isLoggedOut();
}

const OWN = ["id", "zone", "when", "who", "note", "hours", "private", "csrfmiddlewaretoken"];

// What was chosen and typed, in the words of the form: a choice by its label, a field as typed.
function wordsOf(form, button) {
  const words = [...form.elements]
    .filter((each) => each.name && !OWN.includes(each.name) && !["hidden", "file"].includes(each.type))
    .filter((each) => each.type === "radio" ? each.checked : each.type !== "submit" && each.value)
    .map((each) => each.type === "radio" ? each.labels[0].textContent.trim() : each.value);
  return button && button.name ? [...words, button.textContent.trim()] : words;
}

// A number alone is in the unit that stood beside its field.
const ALONE = /^[-−+]?(\d+\s+)?\d[\d.,]*(\s*\/\s*\d+)?$|^[-−+]?[.,]\d+$/;
export const withUnit = (value, unit) => unit && ALONE.test(value.trim()) ? `${value.trim()} ${unit}` : value;

// Own words beside chips come under the chip's name and go before it.
function fieldsOf(data) {
  const fields = {};
  for (const [name, value] of data) {
    if (OWN.includes(name) || name.startsWith("unit.") || value === "" || typeof value !== "string") continue;
    fields[name.replace(/_own$/, "")] = withUnit(value, data.get(`unit.${name}`));
  }
  return fields;
}

function entryOf(form, button) {
  const data = new FormData(form, button);
  return entryFrom({
    kind: form.dataset.kind, fields: fieldsOf(data), zone: data.get("zone") || "",
    when: data.get("when") || "today", who: data.get("who") || "", note: data.get("note") || "",
    hours: data.get("hours") || "", private: data.has("private"), says: form.dataset.says || "", words: wordsOf(form, button).join(", "),
  });
}

// An entry as the outbox keeps it: its id, the day it was said on, where it goes.
export const entryFrom = (about) => ({
  id: newId(), when: "today", who: "", note: "", hours: "", words: "", ...about,
  said_on: dayOfPage(), written: Date.now(), to: home(),
});

export async function sendAll() {
  const sent = await send();
  await showWaiting();
  document.dispatchEvent(new Event("swardbook:sent"));
  return sent;
}

// Keeps an entry, says so, sends it where there is signal; gives the book's answer or nothing.
export async function keepAndTell(entry) {
  uncounted();
  await keep(entry);
  tell(entry, null);
  const sent = (await sendAll()).find((each) => each.asked === entry.id) || null;
  if (sent) tell(entry, sent);
  return sent;
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.dataset.kind) return;
  event.preventDefault();
  const entry = entryOf(form, event.submitter);
  if (form.dataset.clears) form.reset();
  await keepAndTell(entry);
});

box.querySelector("button").addEventListener("click", sendAll);
document.addEventListener("swardbook:waits", showWaiting);
addEventListener("online", () => { sendAll(); keepPages(); });
// What waits is shown before it is sent: where there is hardly any signal, sending may take long.
addEventListener("pageshow", () => { offerBack(); showWaiting(); sendAll(); });
setInterval(() => { sendAll(); keepPages(); }, AGAIN);

// The worker fetches what this phone has not kept yet, or has kept for long. One that could not begin, as when the
// server was gone just then, is asked to begin again.
async function keepPages() {
  const workers = navigator.serviceWorker;
  const is = await workers?.register(document.body.dataset.worker).catch(() => undefined);
  if (is) (await workers.ready).active.postMessage("fill");
}

keepPages();
if (navigator.storage && navigator.storage.persist) navigator.storage.persist();
