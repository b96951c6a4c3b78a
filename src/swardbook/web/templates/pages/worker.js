// Keeps the pages on the phone: fresh where there is signal, as last seen where there is none.
{% autoescape off %}const KEPT = "pages-{{ version }}";
const PAGES = {{ pages }};
const STATICS = {{ statics }};{% endautoescape %}
const PATIENCE = 4000, LONGEST = 30000;

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const kept = await caches.open(KEPT);
    await kept.addAll(STATICS);
    await Promise.all(PAGES.map((page) => keepPage(kept, page).catch(() => undefined)));
    await self.skipWaiting();
  })());
});

// A page that leads elsewhere, such as to the log-in, is not kept in the place of what was asked for.
async function keepPage(kept, page) {
  const answer = await fetch(page);
  if (answer.status === 200 && !answer.redirected) await kept.put(page, answer);
}

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name !== KEPT) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener("fetch", (event) => {
  const asked = new URL(event.request.url);
  if (event.request.method !== "GET" || asked.origin !== location.origin) return;
  if (asked.pathname.startsWith("/static/")) event.respondWith(fromKept(event.request));
  else if (event.request.mode === "navigate") event.respondWith(fresh(event.request));
});

async function fromKept(request) {
  const kept = await caches.open(KEPT);
  return (await kept.match(request)) || fetch(request);
}

const within = (asked, longest) =>
  Promise.race([asked, new Promise((_, stop) => setTimeout(() => stop(new Error("late")), longest))]);

// What comes late is shown as last seen; a page that was never seen is waited for, where there is signal.
async function fresh(request) {
  const kept = await caches.open(KEPT), asked = fetch(request);
  asked.catch(() => undefined);
  const seen = await kept.match(request, { ignoreSearch: true });
  try {
    const answer = await within(asked, seen ? PATIENCE : LONGEST);
    if (answer.status === 200 && !answer.redirected) await kept.put(request, answer.clone());
    return answer;
  } catch {
    const last = seen || (await kept.match({% autoescape off %}"{% url 'no-signal' %}"{% endautoescape %}));
    return last || new Response("{% translate "No signal, and this page was never seen here." as unseen %}{{ unseen|escapejs }}", { status: 503 });
  }
}
