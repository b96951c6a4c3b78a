// Corners and places touched on the plan are written into the form that is open; the form is what is sent.
import { apart, markLayer, sheetOf, short, told } from "./ground.js";

const box = document.getElementById("sheet"), sheet = sheetOf(box), layer = markLayer(sheet), words = box.dataset;
const corners = JSON.parse(words.corners).map(([east, north]) => ({ east, north }));
const forms = [...document.querySelectorAll("form[data-draws]")];
const said = document.getElementById("told");
const NEAR = 14, STEP = 0.1;

const open = () => forms.find((form) => form.closest("details").open) || forms[0];
const field = (form) => form.elements[{ corners: "corners", peg: "where", place: "place", globe: "place" }[form.dataset.draws]];
const pairs = (text) => [...text.matchAll(/(-?[\d.]+)\s*,\s*(-?[\d.]+)/g)].map(([, east, north]) => ({ east: Number(east), north: Number(north) }));
const written = (point) => `${short(point.east)},${short(point.north)}`;

// A peg is told in its zone's frame, which only the book knows: on the site it is said so.
function points() {
  const form = open();
  return form.dataset.draws === "peg" && !field(form).value.startsWith("site") ? [] : pairs(field(form).value);
}

function write(found) {
  const form = open();
  const text = found.map(written).join(" ");
  field(form).value = form.dataset.draws === "peg" && text ? `site ${text.replace(",", " ")}` : text;
  draw();
}

function siteOf(text) {
  const found = text.match(/^site (-?[\d.]+)[ ,]+(-?[\d.]+)/);
  return found ? [{ east: Number(found[1]), north: Number(found[2]) }] : [];
}

const here = () => open().dataset.draws === "peg" ? siteOf(field(open()).value) : points();

function draw(more = "") {
  const found = here();
  layer.clear();
  if (open().dataset.draws === "corners" && found.length > 2) layer.path(found);
  found.forEach((each, n) => layer.ring(each, n === found.length - 1 ? 9 : 5));
  const last = found[found.length - 1];
  said.textContent = last
    ? `${open().dataset.draws === "corners" ? `${words.many} ${found.length}. ` : ""}${told(words.at, last)}${more}`
    : words.none;
}

function snapped(point) {
  const best = corners.reduce((one, each) => !one || apart(each, point) < apart(one, point) ? each : one, null);
  return best && apart(best, point) <= sheet.near(NEAR) ? best : null;
}

sheet.svg.addEventListener("click", (event) => {
  event.preventDefault();
  const touched = sheet.metres(event), corner = open().dataset.draws === "peg" ? null : snapped(touched);
  const point = corner || touched;
  write(open().dataset.draws === "corners" ? [...here(), point] : [point]);
  if (corner) draw(`, ${words.near}`);
});

function move(east, north) {
  const found = here();
  if (!found.length) return;
  const last = found.pop();
  write([...found, { east: last.east + STEP * east, north: last.north + STEP * north }]);
}

for (const each of document.querySelectorAll("[data-move]"))
  each.addEventListener("click", () => move(...each.dataset.move.split(" ").map(Number)));
document.querySelector("[data-step=back]").addEventListener("click", () => write(here().slice(0, -1)));
document.querySelector("[data-step=clear]").addEventListener("click", () => write([]));
const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
box.addEventListener("keydown", (event) => {
  if (!(event.key in KEYS) || !here().length) return;
  event.preventDefault();
  move(...KEYS[event.key]);
});
for (const form of forms) {
  form.closest("details").addEventListener("toggle", (event) => {
    if (event.target.open) for (const other of forms) if (other !== form) other.closest("details").open = false;
    draw();
  });
  field(form).addEventListener("input", () => draw());
}
const phone = document.getElementById("phone");
phone.addEventListener("click", () => {
  const none = () => { said.textContent = phone.textContent = phone.dataset.none; };
  if (!navigator.geolocation) return none();
  navigator.geolocation.getCurrentPosition(({ coords }) => {
    phone.form.elements.latitude.value = coords.latitude.toFixed(7);
    phone.form.elements.longitude.value = coords.longitude.toFixed(7);
  }, none, { enableHighAccuracy: true, timeout: 15_000 });
});
for (const each of document.querySelectorAll("input[name=zone]")) each.addEventListener("change", () => {
  field(each.form).value = each.dataset.edge;
  draw();
});
draw();
