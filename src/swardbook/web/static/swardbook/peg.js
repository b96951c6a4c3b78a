// A peg's last picture over the camera, half seen through. Pictures seen once stay on this phone.
const ghost = document.getElementById("ghost"), video = ghost.querySelector("video"), picture = ghost.querySelector("img");
const said = ghost.querySelector("[role=status]"), words = ghost.dataset, NAME = "swardbook-pegs", BOX = "pictures";
const PALENESS = ["ghost-3", "ghost-5", "ghost-7", "ghost-9"];
let pale = 1, stream = null, address = "", asking = 0;

function opened() {
  return new Promise((done, fail) => {
    const asked = indexedDB.open(NAME, 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(BOX);
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => fail(asked.error);
  });
}

async function inBox(mode, work) {
  const base = await opened();
  try {
    return await new Promise((done, fail) => {
      const deal = base.transaction(BOX, mode), asked = work(deal.objectStore(BOX));
      deal.oncomplete = () => done(asked.result);
      deal.onabort = deal.onerror = () => fail(deal.error);
    });
  } finally {
    base.close();
  }
}

// The picture from this phone, else from the book, then kept here for days without signal.
async function pictureAt(where) {
  const kept = await inBox("readonly", (box) => box.get(where)).catch(() => null);
  if (kept) return kept;
  const answer = await fetch(where, { credentials: "same-origin" }).catch(() => null);
  if (!answer || !answer.ok) return null;
  const found = await answer.blob();
  await inBox("readwrite", (box) => box.put(found, where)).catch(() => null);
  return found;
}

const shade = () => { picture.className = PALENESS[pale]; };

async function show(where) {
  const mine = ++asking, found = await pictureAt(where);
  if (mine !== asking) return;
  if (address) URL.revokeObjectURL(address);
  address = found ? URL.createObjectURL(found) : "";
  picture.hidden = !found;
  if (found) picture.src = address;
  ghost.hidden = false;
  withoutCamera(words.asked, found);
  ghost.scrollIntoView({ block: "start" });
  try {
    await overCamera(mine, found);
  } catch {
    if (mine === asking) withoutCamera(words.refused, found);
  }
}

// The picture by itself, with the reason; so it stays where the question for the camera is never answered.
function withoutCamera(reason, found) {
  video.hidden = true;
  pale = 3;
  shade();
  said.textContent = `${reason} ${found ? "" : words.gone}`.trim();
}

// A camera that comes after the picture was closed is put out again.
async function overCamera(mine, found) {
  const came = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  if (mine !== asking) return stop(came);
  stop(stream);
  stream = came;
  video.srcObject = stream;
  video.hidden = false;
  pale = 1;
  shade();
  said.textContent = found ? "" : words.gone;
  await video.play();
}

function stop(held) {
  if (held) for (const track of held.getTracks()) track.stop();
}

function close() {
  asking += 1;
  stop(stream);
  stream = null;
  video.srcObject = null;
  ghost.hidden = true;
}

for (const each of document.querySelectorAll("[data-ghost]")) each.addEventListener("click", () => show(each.dataset.ghost));
ghost.querySelector("[data-close]").addEventListener("click", close);
ghost.querySelector("[data-pale]").addEventListener("click", () => { pale = Math.max(0, pale - 1); shade(); });
ghost.querySelector("[data-dark]").addEventListener("click", () => { pale = Math.min(3, pale + 1); shade(); });
addEventListener("pagehide", close);

function openNamed() {
  const named = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!named) return;
  for (let each = named; each; each = each.parentElement) if (each.tagName === "DETAILS") each.open = true;
  named.scrollIntoView({ block: "start" });
}
addEventListener("hashchange", openNamed);
openNamed();

// Pegs that are opened are pegs seen: their pictures are kept for later, and shown from here without signal.
for (const each of document.querySelectorAll("details")) each.addEventListener("toggle", async () => {
  const button = each.open && each.querySelector("[data-ghost]"), shown = each.querySelector("img");
  if (!button) return;
  const found = await pictureAt(button.dataset.ghost);
  if (found && shown && !shown.naturalWidth) shown.src = URL.createObjectURL(found);
});
