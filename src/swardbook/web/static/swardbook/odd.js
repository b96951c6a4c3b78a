// Something odd here: a picture, a voice note or a few words, tied to a place and the day.
import { entryFrom, keepAndTell, sendAll } from "./capture.js";
import { dayOfPage, remembered } from "./phone.js";
import { keepPicture } from "./pictures.js";
import { tell } from "./said.js";
import { zoneChoice } from "./zones.js";

const LONGEST = 180_000;
const page = document.getElementById("odd"), words = page.dataset;
const secret = page.querySelector("input[name=private]");
const $ = (id) => document.getElementById(id);

function where() {
  const zone = zoneOf(), place = page.querySelector("input[name=place]:checked");
  const own = place && place.dataset.zone === zone ? place : null;
  const measured = [...page.querySelectorAll("input[name=measure]:checked")];
  const isPlot = own?.dataset.is === "plot";
  return {
    zone, private: secret.checked, peg: own && !isPlot ? own.value : "", plot: isPlot ? own.value : "",
    measure: isPlot && measured.some((each) => each.dataset.zone === zone),
  };
}

function showPegs(zone) {
  for (const each of page.querySelectorAll(".places")) each.hidden = each.dataset.zone !== zone;
}

const zoneOf = zoneChoice(page, showPegs);

async function kept(file, says) {
  const told = { id: file.id, kind: "attachment", says, zone: file.zone, words: file.peg || file.plot, back_to: file.back_to };
  tell(told, null);
  const sent = (await sendAll()).find((each) => each.asked === file.id);
  if (sent) tell(told, sent);
}

async function take(input) {
  for (const picture of input.files) await kept(await keepPicture(picture, where()), words.picture);
  input.value = "";
}

let speaking = null;

async function speak() {
  if (speaking) return speaking.stop();
  let sound;
  try {
    sound = await navigator.mediaDevices.getUserMedia({ audio: true });
  } catch {
    $("heard").textContent = words.noSound;
    return;
  }
  const kind = ["audio/webm;codecs=opus", "audio/mp4", ""].find((each) => !each || MediaRecorder.isTypeSupported(each));
  const parts = [], began = Date.now(), at = where();
  speaking = new MediaRecorder(sound, kind ? { mimeType: kind } : {});
  speaking.addEventListener("dataavailable", (event) => parts.push(event.data));
  const clock = setInterval(() => {
    $("heard").textContent = `${words.speaking} ${Math.round((Date.now() - began) / 1000)} s`;
    if (Date.now() - began > LONGEST) speaking?.stop();
  }, 500);
  speaking.addEventListener("stop", async () => {
    clearInterval(clock);
    for (const track of sound.getTracks()) track.stop();
    const blob = new Blob(parts, { type: speaking.mimeType });
    speaking = null;
    $("speak").textContent = words.speak;
    $("heard").textContent = "";
    await kept(await keepPicture(blob, { ...at, private: secret.checked, measure: false }, "voice note"), words.voice);
  });
  speaking.start();
  $("speak").textContent = words.stop;
}

$("shot").addEventListener("change", () => take($("shot")));
$("there").addEventListener("change", () => take($("there")));
$("speak").addEventListener("click", speak);
addEventListener("pagehide", () => speaking?.stop());
document.addEventListener("visibilitychange", () => document.hidden && speaking?.stop());
$("words").addEventListener("submit", async (event) => {
  event.preventDefault();
  const text = new FormData($("words")).get("text").trim();
  if (!text) return;
  const { zone, peg, plot, private: isPrivate } = where(), place = peg || plot;
  $("words").reset();
  await keepAndTell(entryFrom({
    kind: "note", zone, private: isPrivate, when: dayOfPage(), who: remembered("who"), says: words.says,
    fields: { text: place ? `${place}: ${text}` : text }, words: text,
  }));
});
