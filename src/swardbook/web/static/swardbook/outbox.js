// What waits on this phone: kept in its own database until the book has it. Sent once, by its id.
const NAME = "swardbook", BOX = "outbox";

function opened() {
  return new Promise((done, fail) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(BOX, { keyPath: "id" });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
}

async function inBox(mode, work) {
  const base = await opened();
  try {
    return await new Promise((done, fail) => {
      const deal = base.transaction(BOX, mode, { durability: "strict" });
      const asked = work(deal.objectStore(BOX));
      deal.oncomplete = () => done(asked && asked.result);
      deal.onabort = deal.onerror = () => fail(deal.error);
    });
  } finally {
    base.close();
  }
}

export const keep = (entry) => inBox("readwrite", (box) => box.put(entry));
export const drop = (id) => inBox("readwrite", (box) => box.delete(id));

export async function waiting() {
  const all = await inBox("readonly", (box) => box.getAll());
  return all.sort((one, other) => one.written - other.written);
}

function token() {
  const found = document.cookie.match(/(?:^|; )csrftoken=([^;]+)/);
  return found ? decodeURIComponent(found[1]) : "";
}

async function post(address, body) {
  return fetch(address, {
    method: "POST", credentials: "same-origin", redirect: "error",
    headers: { "Content-Type": "application/json", "X-CSRFToken": token() },
    body: body === undefined ? undefined : JSON.stringify(body),
  });
}

// Where this ground takes its entries; an entry that was kept on another ground remembers its own.
export const home = () => document.body.dataset.entries;

let sending = null;

// Sends what waits, the oldest first; stops where there is no signal. Gives what was sent.
export function send() {
  sending ??= (async () => {
    const sent = [];
    try {
      for (const entry of await waiting()) {
        const answer = await post(entry.to || home(), entry);
        if (!answer.ok) break;
        sent.push(await answer.json());
        await drop(entry.id);
      }
    } catch {
      // No signal: it waits.
    } finally {
      sending = null;
    }
    return sent;
  })();
  return sending;
}

// Takes an entry back: out of the box if it waits there still, else out of the book.
export async function takeBack(id) {
  if (sending) await sending;
  const box = await waiting();
  if (box.some((each) => each.id === id)) {
    await drop(id);
    return true;
  }
  const answer = await post(`${home()}${id}/take-back/`).catch(() => null);
  return Boolean(answer && answer.ok);
}
