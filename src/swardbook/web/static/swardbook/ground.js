// The drawn plan under a finger: from the screen to metres on the ground and back. Nothing else is worked out here.
const NS = "http://www.w3.org/2000/svg";

export function sheetOf(box) {
  const svg = box.querySelector("svg.plan"), { west, north, scale } = svg.dataset;
  const [wide, high] = svg.getAttribute("viewBox").split(" ").slice(2).map(Number);
  const west0 = Number(west), north0 = Number(north), size = Number(scale);
  return {
    svg,
    metres(event) {
      const frame = svg.getBoundingClientRect();
      const x = (event.clientX - frame.left) / frame.width * wide, y = (event.clientY - frame.top) / frame.height * high;
      return { east: west0 + x / size, north: north0 - y / size };
    },
    near: (px) => px / (svg.getBoundingClientRect().width / wide) / size,
    place: ({ east, north }) => [(east - west0) * size, (north0 - north) * size],
  };
}

// A layer of its own for what was touched; it takes no taps.
export function markLayer(sheet) {
  const layer = document.createElementNS(NS, "g");
  layer.setAttribute("class", "touched");
  layer.setAttribute("pointer-events", "none");
  sheet.svg.append(layer);
  return {
    clear: () => layer.replaceChildren(),
    ring(point, radius = 9) {
      const [x, y] = sheet.place(point), ring = document.createElementNS(NS, "circle");
      ring.setAttribute("cx", x);
      ring.setAttribute("cy", y);
      ring.setAttribute("r", radius);
      layer.append(ring);
    },
    path(points) {
      const line = document.createElementNS(NS, "polygon");
      line.setAttribute("points", points.map((each) => sheet.place(each).join(",")).join(" "));
      layer.append(line);
    },
  };
}

export const short = (metres) => String(Math.round(metres * 100) / 100);
export const told = (words, point) => words.replace("E", point.east.toFixed(1)).replace("N", point.north.toFixed(1));
export const apart = (one, other) => Math.hypot(one.east - other.east, one.north - other.north);
