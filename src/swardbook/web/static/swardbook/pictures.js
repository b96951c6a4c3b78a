// Pictures and voice notes: made small here, kept here until the book has them, each with an id of its own.
import { filesHome, home, keepFile, send } from "./outbox.js";
import { dayOfPage, newId, remembered } from "./phone.js";

const SIDE = 1600, MOST = 300 * 1024;

const asBlob = (canvas, quality) => new Promise((done) => canvas.toBlob(done, "image/jpeg", quality));

// At most 1,600 px and 300 kB, upright; a picture that this browser cannot read goes as it came.
export async function smaller(file) {
  let picture;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    return file;
  }
  let side = Math.min(SIDE, Math.max(picture.width, picture.height));
  for (let quality = 0.85; ; quality -= 0.12) {
    const share = side / Math.max(picture.width, picture.height);
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(picture.width * share));
    canvas.height = Math.max(1, Math.round(picture.height * share));
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const blob = await asBlob(canvas, Math.max(quality, 0.4));
    if (blob && (blob.size <= MOST || side < 200)) {
      picture.close();
      return blob;
    }
    if (quality < 0.5) side = Math.round(side * 0.8);
  }
}

// Keeps a file in the outbox. `about`: of (an entry's id), zone, plot, peg, note, measure.
export async function keepPicture(held, about, what = "picture") {
  const isPicture = what === "picture";
  const blob = isPicture && !about.measure ? await smaller(held) : held;
  const ending = { "image/jpeg": "jpg", "image/png": "png", "image/webp": "webp" }[blob.type] || "bin";
  const file = {
    id: newId(), what, of: "", zone: "", plot: "", peg: "", note: "", measure: false, when: dayOfPage(),
    who: remembered("who"), ...about, name: isPicture ? `picture.${ending}` : "voice-note", blob,
    written: Date.now(), to: filesHome(), back_to: home(),
  };
  await keepFile(file);
  document.dispatchEvent(new Event("swardbook:waits"));
  return file;
}

// A button that takes a picture to go with an entry.
export function pictureButton(entry) {
  const words = document.getElementById("said").dataset;
  const label = document.createElement("label");
  label.className = "button second shot";
  const text = document.createElement("span");
  text.textContent = words.picture;
  const input = Object.assign(document.createElement("input"), { type: "file", accept: "image/*" });
  input.setAttribute("capture", "environment");
  input.addEventListener("change", async () => {
    if (!input.files.length) return;
    await keepPicture(input.files[0], { of: entry.id, zone: entry.zone || "" });
    text.textContent = words.another;
    input.value = "";
    await send();
    document.dispatchEvent(new Event("swardbook:waits"));
  });
  label.append(text, input);
  return label;
}
