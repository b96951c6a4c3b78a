// Forms of what was done are kept on the phone first, then sent. Without this script they are sent at once.
import { home, keep, send, takeBack, waiting } from "./outbox.js";

const UNDO = 30_000, AGAIN = 30_000;
const said = document.getElementById("said");
const box = document.getElementById("waits");

function dayOfPage() {
  const made = document.body.dataset.madeUpToday;
  if (made) return made;
  const now = new Date();
  return new Date(now - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

async function showWaiting() {
  const all = await waiting();
  box.hidden = all.length === 0;
  box.querySelector("b").textContent =
    all.length === 1 ? "1 entry waits on this phone." : `${all.length} entries wait on this phone.`;
  const oldest = all.length ? Date.now() - all[0].written : 0;
  box.querySelector("i").textContent = oldest > 2 * 86_400_000 ? "Send it soon: it is two days old." : "";
  return all;
}

const OWN = ["id", "zone", "when", "who", "note", "csrfmiddlewaretoken"];

// What was chosen and typed, in the words of the form: a choice by its label, a field as typed.
function wordsOf(form, button) {
  const words = [...form.elements]
    .filter((each) => each.name && !OWN.includes(each.name) && each.type !== "hidden")
    .filter((each) => each.type === "radio" ? each.checked : each.type !== "submit" && each.value)
    .map((each) => each.type === "radio" ? each.labels[0].textContent.trim() : each.value);
  return button && button.name ? [...words, button.textContent.trim()] : words;
}

function entryOf(form, button) {
  const data = new FormData(form, button);
  const fields = {};
  for (const [name, value] of data) if (!OWN.includes(name) && value !== "") fields[name] = value;
  return {
    id: crypto.randomUUID(), kind: form.dataset.kind, fields, zone: data.get("zone") || "",
    when: data.get("when") || "today", who: data.get("who") || "", note: data.get("note") || "",
    said_on: dayOfPage(), written: Date.now(), says: form.dataset.says || "",
    words: wordsOf(form, button).join(", "), to: home(),
  };
}

function tell(entry, sent) {
  const title = document.createElement("h2"), text = document.createElement("p");
  title.textContent = "Kept";
  const told = entry.words ? `: ${entry.words}` : "";
  text.textContent = `${entry.says}, ${entry.zone || "whole site"}${told}. ` +
    (sent ? "Sent: it is in the book." : "On this phone only: it is sent when there is signal.");
  const undo = document.createElement("button");
  undo.type = "button";
  undo.className = "second";
  undo.textContent = "Take it back";
  undo.addEventListener("click", async () => {
    undo.remove();
    text.textContent = (await takeBack(entry.id))
      ? "Taken back." : "Not taken back: there is no signal now. The diary page can do it later.";
    await showWaiting();
  });
  setTimeout(() => undo.remove(), UNDO);
  const parts = [title, text];
  if (sent && sent.needs_a_look) {
    const look = document.createElement("p");
    look.className = "mind";
    look.textContent = `Needs a look: ${sent.needs_a_look}`;
    parts.push(look);
  }
  said.replaceChildren(...parts, undo);
  said.hidden = false;
  said.scrollIntoView({ block: "start" });
  said.focus();
}

async function sendAll() {
  const sent = await send();
  await showWaiting();
  return sent;
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (!form.dataset.kind) return;
  event.preventDefault();
  const entry = entryOf(form, event.submitter);
  await keep(entry);
  if (form.dataset.clears) form.reset();
  tell(entry, null);
  const sent = (await sendAll()).find((each) => each.id === entry.id);
  if (sent) tell(entry, sent);
});

box.querySelector("button").addEventListener("click", sendAll);
addEventListener("online", sendAll);
addEventListener("pageshow", sendAll);
setInterval(sendAll, AGAIN);
if ("serviceWorker" in navigator) navigator.serviceWorker.register(document.body.dataset.worker);
if (navigator.storage && navigator.storage.persist) navigator.storage.persist();
