// What waits on this phone: kept in its own database until the book has it. Sent once, by its id.
const NAME = "swardbook", BOX = "outbox", FILES = "files";
const LATER = 3_600_000;

function opened() {
  return new Promise((done, fail) => {
    const asked = indexedDB.open(NAME, 2);
    asked.onupgradeneeded = () => {
      const base = asked.result;
      for (const box of [BOX, FILES])
        if (!base.objectStoreNames.contains(box)) base.createObjectStore(box, { keyPath: "id" });
    };
    asked.onsuccess = () => {
      asked.result.onversionchange = () => asked.result.close();
      done(asked.result);
    };
    asked.onerror = asked.onblocked = () => fail(asked.error || new Error("in use"));
  });
}

async function inBox(mode, work, name = BOX) {
  const base = await opened();
  try {
    return await new Promise((done, fail) => {
      const deal = base.transaction(name, mode, { durability: "strict" });
      const asked = work(deal.objectStore(name));
      deal.oncomplete = () => done(asked && asked.result);
      deal.onabort = deal.onerror = () => fail(deal.error);
    });
  } finally {
    base.close();
  }
}

export const keep = (entry) => inBox("readwrite", (box) => box.put(entry));
export const drop = (id) => inBox("readwrite", (box) => box.delete(id));
export const keepFile = (file) => inBox("readwrite", (box) => box.put(file), FILES);
export const dropFile = (id) => inBox("readwrite", (box) => box.delete(id), FILES);

const byAge = (one, other) => one.written - other.written;
const allIn = async (name) => (await inBox("readonly", (box) => box.getAll(), name)).sort(byAge);

// Entries that wait, the oldest first; what was taken back before it was sent is no entry any more.
export const waiting = async () => (await allIn(BOX)).filter((each) => !each.back);
export const filesWaiting = () => allIn(FILES);

function token() {
  const found = document.cookie.match(/(?:^|; )csrftoken=([^;]+)/);
  return found ? decodeURIComponent(found[1]) : "";
}

async function post(address, body) {
  const headers = { "X-CSRFToken": token() };
  if (typeof body === "string") headers["Content-Type"] = "application/json";
  const answer = await fetch(address, { method: "POST", credentials: "same-origin", redirect: "error", headers, body });
  loggedOut = answer.status === 401;
  return answer;
}

// Whether the book answered that nobody is logged in here; then everything waits for a log-in.
let loggedOut = false;
export const isLoggedOut = () => loggedOut;

// Where this ground takes its entries; an entry that was kept on another ground remembers its own.
export const home = () => document.body.dataset.entries;
export const filesHome = () => document.body.dataset.files;

const backAt = (entry) => `${entry.to || home()}${entry.id}/take-back/`;

async function sendEntries(sent) {
  for (const entry of await allIn(BOX)) {
    if (entry.back) {
      const answer = await post(backAt(entry));
      if (!answer.ok && answer.status !== 404) return false;
      await drop(entry.id);
      continue;
    }
    const answer = await post(entry.to || home(), JSON.stringify(entry));
    if (!answer.ok) return false;
    sent.push({ ...(await answer.json()), asked: entry.id });
    await inBox("readwrite", (box) => dropUnlessTakenBack(box, entry.id));
  }
  return true;
}

// Taken back while it was under way: what stays is the wish to take it back, which is sent next time.
function dropUnlessTakenBack(box, id) {
  const asked = box.get(id);
  asked.onsuccess = () => {
    if (asked.result && !asked.result.back) box.delete(id);
  };
}

// A file that the book cannot take stays here with the reason, holds up no other, and is tried again in an hour.
async function sendFiles(sent) {
  for (const file of await filesWaiting()) {
    const { blob, to, name, stuck, tried, ...about } = file;
    if (stuck && Date.now() - tried < LATER) continue;
    const body = new FormData();
    body.append("about", JSON.stringify(about));
    body.append("file", blob, name);
    const answer = await post(to || filesHome(), body);
    if (answer.status >= 500 || answer.status === 403 || answer.status === 401) return;
    const told = await answer.json().catch(() => ({}));
    if (answer.ok && !told.refusal) {
      await dropFile(file.id);
      sent.push({ ...told, asked: file.id });
    } else {
      await keepFile({ ...file, stuck: told.refusal || String(answer.status), tried: Date.now() });
    }
  }
}

async function sendNow() {
  const sent = [];
  try {
    if (await sendEntries(sent)) await sendFiles(sent);
  } catch {
    // No signal: it waits.
  }
  return sent;
}

let sending = null, sendingNext = null;

// Sends what waits, the oldest first, entries before files; stops where there is no signal. Gives what was sent.
// Two tabs take turns where the browser can hold a lock; where it cannot, the book keeps each once all the same.
// What was kept while a sending was under way may have missed it, so it is followed by another one.
export function send() {
  if (sending) {
    const next = async (before) => { sendingNext = null; return [...before, ...(await send())]; };
    sendingNext ??= sending.then(next, () => next([]));
    return sendingNext;
  }
  sending = (navigator.locks ? navigator.locks.request(NAME, sendNow) : sendNow())
    .finally(() => { sending = null; });
  return sending;
}

// Takes an entry back, at once or as soon as there is signal: it may have come although no answer did.
export async function takeBack(id, to) {
  const there = (await allIn(BOX)).find((each) => each.id === id);
  const isFile = (await filesWaiting()).some((each) => each.id === id);
  if (isFile) await dropFile(id);
  await keep({ id, back: true, to: to || (there && there.to) || home(), written: Date.now() });
  const isUnderWay = sending !== null;
  await send();
  const isLeft = async () => (await allIn(BOX)).some((each) => each.id === id);
  if (isUnderWay && await isLeft()) await send();
  return isFile || Boolean(there) || !(await isLeft());
}
