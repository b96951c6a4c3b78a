// Says whether the pages are on this phone for days without signal, or what is still missing.
const box = document.getElementById("ready"), words = box.dataset, EVERY = 1500, PATIENT = 20, NAMED = 4;
const [mark, told] = box.querySelectorAll("span"), again = box.querySelector("button");

// The worker's own word; nothing while there is none yet, or where it does not answer.
async function stateHere() {
  const found = await navigator.serviceWorker.getRegistration();
  if (!found || !found.active) return null;
  const worker = found.active;
  return new Promise((done) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = (event) => done(event.data);
    setTimeout(() => done(null), EVERY);
    worker.postMessage("state", [port2]);
  });
}

function say(shape, text, isLacking = false) {
  box.hidden = false;
  box.dataset.state = shape;
  again.hidden = !isLacking;
  if (told.textContent === text) return;
  mark.textContent = words[shape];
  told.textContent = text;
}

function lacking(missing) {
  const more = missing.length - NAMED;
  const names = missing.slice(0, NAMED).join(", ");
  return `${words.missing} ${names}${more > 0 ? `; ${words.more.replace("0", more)}` : ""}.`;
}

async function look(turn = 0) {
  const state = await stateHere();
  if (state && state.isListed && !state.missing.length) return say("whole", words.ready.replace("0", state.pages));
  const isUnderWay = turn < PATIENT && (!state || state.isFilling || turn < 2);
  if (isUnderWay || (state && state.isFilling)) {
    say("part", words.coming);
    setTimeout(() => look(turn + 1), EVERY);
  } else if (state && state.isListed) say("part", lacking(state.missing), true);
  else say("none", words.lost, Boolean(state));
}

again.addEventListener("click", async () => {
  const found = await navigator.serviceWorker.getRegistration();
  if (found && found.active) found.active.postMessage("fill");
  look();
});

if ("serviceWorker" in navigator) look();
else say("none", words.never);
