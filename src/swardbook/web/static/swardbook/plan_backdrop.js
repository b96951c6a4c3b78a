// Two points touched on a picture are written into the form, in the picture's own pixels.
const photo = document.querySelector("#photo img"), next = document.getElementById("next");
if (photo) {
  const fields = ["p1", "p2"].map((name) => document.querySelector(`input[name=${name}]`));
  const say = () => {
    const empty = fields.findIndex((each) => !each.value);
    next.textContent = [next.dataset.first, next.dataset.second][empty] || next.dataset.done;
  };
  photo.addEventListener("click", (event) => {
    const frame = photo.getBoundingClientRect(), field = fields.find((each) => !each.value) || fields[1];
    const x = (event.clientX - frame.left) / frame.width * Number(photo.getAttribute("width"));
    const y = (event.clientY - frame.top) / frame.height * Number(photo.getAttribute("height"));
    field.value = `${Math.round(x)}, ${Math.round(y)}`;
    say();
  });
  for (const each of fields) each.addEventListener("input", say);
  say();
}
