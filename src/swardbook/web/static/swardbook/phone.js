// What this phone remembers of how it is used: the hand, sounds, who counts. Nothing of it leaves the phone.
const STEM = "swardbook.";

export function remembered(name, otherwise = "") {
  try {
    return localStorage.getItem(STEM + name) ?? otherwise;
  } catch {
    return otherwise;
  }
}

export function remember(name, value) {
  try {
    if (value === "" || value === null) localStorage.removeItem(STEM + name);
    else localStorage.setItem(STEM + name, value);
  } catch {
    // A phone that keeps nothing: it works, and forgets.
  }
}

export const recall = (name, otherwise) => {
  try {
    return JSON.parse(remembered(name)) ?? otherwise;
  } catch {
    return otherwise;
  }
};
export const retain = (name, value) => remember(name, value === null ? "" : JSON.stringify(value));

// The day as the page has it: a made-up ground's own, else this phone's.
export function dayOfPage() {
  const made = document.body.dataset.madeUpToday;
  if (made) return made;
  const now = new Date();
  return new Date(now - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

// An id of its own for whatever is kept; plain HTTP on another machine has no randomUUID.
export function newId() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 15) | 64;
  bytes[8] = (bytes[8] & 63) | 128;
  const hex = [...bytes].map((each) => each.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

let sound = null;
const STEPS = [0, 4, 7, 11, 14, 17, 21, 24];

// A soft sound and a buzz of its own for each kind, so that eyes stay on the grass; -1 is for one taken back.
export function tick(index) {
  if (remembered("buzz") !== "off" && navigator.vibrate)
    navigator.vibrate(index < 0 ? [15, 30, 15] : index % 2 ? [18, 40, 18 + 8 * index] : 20 + 10 * index);
  if (remembered("sounds") === "off") return;
  try {
    sound ??= new AudioContext();
    const now = sound.currentTime, tone = sound.createOscillator(), loud = sound.createGain();
    tone.type = index % 2 ? "triangle" : "sine";
    tone.frequency.value = index < 0 ? 150 : 294 * 2 ** (STEPS[index % STEPS.length] / 12);
    loud.gain.setValueAtTime(0, now);
    loud.gain.linearRampToValueAtTime(0.16, now + 0.008);
    loud.gain.exponentialRampToValueAtTime(0.001, now + (index % 2 ? 0.09 : 0.16));
    tone.connect(loud).connect(sound.destination);
    tone.start(now);
    tone.stop(now + 0.2);
  } catch {
    // No sound here.
  }
}
