// Buttons to count with, and how many crossings of a frame are counted; without scripts the numbers are typed.
const form = document.getElementById("practice"), words = form.dataset;
const all = Number(words.crossings);

for (const frame of form.querySelectorAll("[data-frame]")) {
  const fields = [...frame.querySelectorAll("input[type=number]")], sum = frame.querySelector(".sum");
  const counted = () => fields.reduce((total, each) => total + (Number(each.value) || 0), 0);

  const draw = () => {
    sum.textContent = `${counted()} ${words.of} ${all}`;
  };

  for (const field of fields) {
    const label = field.closest("label"), row = document.createElement("div");
    label.replaceWith(row);
    row.className = "tapped";
    row.append(label);
    for (const [step, sign, says] of [[-1, "−", words.less], [1, "+", words.more]]) {
      const button = document.createElement("button");
      button.type = "button";
      button.className = step < 0 ? "second" : "";
      button.textContent = sign;
      button.setAttribute("aria-label", `${says}: ${label.querySelector("span").textContent}`);
      button.addEventListener("click", () => {
        const next = (Number(field.value) || 0) + step;
        if (next >= 0 && counted() + step <= all) field.value = next;
        draw();
      });
      row.append(button);
    }
    field.addEventListener("input", draw);
  }
  draw();
}
