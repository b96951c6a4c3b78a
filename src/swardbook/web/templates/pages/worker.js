// Keeps the pages on the phone: fresh where there is signal, as last seen where there is none.
{% autoescape off %}const KEPT = "pages-{{ version }}";
const NEEDED = {{ needed }};
const STATICS = {{ statics }};
const LIST = "{% url 'api-kept' %}", NO_SIGNAL = "{% url 'no-signal' %}";{% endautoescape %}
const PATIENCE = 4000, LONGEST = 30000, OLD = 12 * 3_600_000;
const PAUSES = [0, 2000, 6000, 15000], LANES = 3;

const wait = (long) => new Promise((on) => setTimeout(on, long));
const nothing = () => undefined;

// What every page stands on comes first and whole, else the worker that was there before stays and this one is
// tried again. All else comes piece by piece afterwards, so that one piece that is missing holds up no other.
self.addEventListener("install", (event) => event.waitUntil((async () => {
  const kept = await caches.open(KEPT);
  await Promise.all(NEEDED.map((each) => keepFirst(kept, each)));
  await self.skipWaiting();
})()));

async function keepFirst(kept, at) {
  for (const pause of PAUSES) {
    await wait(pause);
    if (await keepOne(kept, at)) return;
  }
  throw new Error(`not there: ${at}`);
}

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  await takeOver();
  await self.clients.claim();
})()));

// Pages that a worker before this one kept are better than none; they count as old, and are fetched anew.
async function takeOver() {
  const kept = await caches.open(KEPT);
  for (const name of await caches.keys()) {
    if (name === KEPT) continue;
    const before = await caches.open(name);
    for (const request of await before.keys()) {
      if (isStatic(new URL(request.url)) || (await kept.match(request))) continue;
      const seen = await before.match(request), headers = new Headers(seen.headers);
      headers.set("Date", new Date(0).toUTCString());
      await kept.put(request, new Response(await seen.blob(), { headers }));
    }
    await caches.delete(name);
  }
}

// A page that leads elsewhere, such as to the log-in, or that is still worked out, is not kept.
async function keepOne(kept, at) {
  const answer = await fetch(at).catch(nothing);
  if (!answer || answer.status !== 200 || answer.redirected) return false;
  await kept.put(at, answer);
  return true;
}

async function listed(kept) {
  const held = await kept.match(LIST);
  return held ? (await held.json()).pages : null;
}

const whole = (at) => new URL(at, location.href).href;

async function missing(kept) {
  const there = new Set((await kept.keys()).map((request) => request.url));
  const wanted = [...STATICS.map((at) => ({ at, title: at.split("/").pop() })), ...((await listed(kept)) || [])];
  return wanted.filter(({ at }) => !there.has(whole(at)));
}

const isOld = (answer) => Date.now() - Date.parse(answer.headers.get("Date") || 0) > OLD;

async function old(kept) {
  const found = [];
  for (const page of (await listed(kept)) || []) {
    const seen = await kept.match(page.at);
    if (seen && isOld(seen)) found.push(page);
  }
  return found;
}

let filling = null;
const fill = () => (filling ??= keepAll().catch(nothing).finally(() => { filling = null; }));

// Each page by itself, again after a while where it did not come; those that are half a day old once.
async function keepAll() {
  const kept = await caches.open(KEPT), list = await kept.match(LIST);
  if (!list || isOld(list)) await keepOne(kept, LIST);
  let due = [...(await missing(kept)), ...(await old(kept))];
  for (const pause of PAUSES) {
    if (!due.length) return;
    await wait(pause);
    await Promise.all(Array.from({ length: LANES }, async () => {
      for (let page = due.shift(); page; page = due.shift()) await keepOne(kept, page.at);
    }));
    due = await missing(kept);
  }
}

async function state() {
  const kept = await caches.open(KEPT), pages = await listed(kept), lacking = await missing(kept);
  return {
    isListed: pages !== null, pages: (pages || []).length, isFilling: filling !== null,
    missing: [...new Set(lacking.map(({ title }) => title))],
  };
}

self.addEventListener("message", (event) => {
  if (event.data === "fill") event.waitUntil(fill());
  if (event.data === "state") event.waitUntil(state().then((told) => event.ports[0].postMessage(told)));
});

const isStatic = (asked) => asked.pathname.startsWith("/static/");

self.addEventListener("fetch", (event) => {
  const asked = new URL(event.request.url);
  if (event.request.method !== "GET" || asked.origin !== location.origin) return;
  if (isStatic(asked)) event.respondWith(fromKept(event.request));
  else if (event.request.mode === "navigate") event.respondWith(fresh(event.request));
});

async function fromKept(request) {
  const kept = await caches.open(KEPT), held = await kept.match(request);
  if (held) return held;
  const answer = await fetch(request);
  if (answer.status === 200) await kept.put(request, answer.clone()).catch(nothing);
  return answer;
}

const within = (asked, longest) =>
  Promise.race([asked, new Promise((_, stop) => setTimeout(() => stop(new Error("late")), longest))]);

// What comes late is shown as last seen; a page that was never seen is waited for, where there is signal.
async function fresh(request) {
  const kept = await caches.open(KEPT), asked = fetch(request);
  asked.catch(nothing);
  const seen = await kept.match(request, { ignoreSearch: true });
  try {
    const answer = await within(asked, seen ? PATIENCE : LONGEST);
    if (answer.status === 200 && !answer.redirected) await kept.put(request, answer.clone()).catch(nothing);
    return answer;
  } catch {
    const last = seen || (await kept.match(NO_SIGNAL));
    return last || new Response("{% translate "No signal, and this page was never seen here." as unseen %}{{ unseen|escapejs }}", { status: 503 });
  }
}
