/** The two drawings of the draw screen: a ring that fills while everyone thinks, and the round as notes. */

const SVG = "http://www.w3.org/2000/svg";
const LINES = [0, 2, 4, 1, 3];
const ROUND = 2 * Math.PI * 92;

function shape(tag, attributes, ...children) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.append(...children);
  return made;
}

/** A ring; `fill(share)` shows how much of the wait is over, from 0 to 1. It says nothing aloud. */
export function ring() {
  const arc = shape("circle", {
    class: "arc", cx: 100, cy: 100, r: 92, "stroke-dasharray": ROUND, "stroke-dashoffset": ROUND,
    transform: "rotate(-90 100 100)",
  });
  const picture = shape("svg", { class: "ring", viewBox: "0 0 200 200", "aria-hidden": "true" },
    shape("circle", { class: "track", cx: 100, cy: 100, r: 92 }), arc);
  const fill = (share) => arc.setAttribute("stroke-dashoffset", String(ROUND * (1 - share)));
  return { picture, fill };
}

/**
 * The round on five lines: a note for each turn of it, filled once it has been given. A note is no
 * child: they fill from the left, whoever it was.
 */
export function notes(had, size) {
  const apart = size > 26 ? 26 : 32;
  const width = Math.max(size, 8) * apart + 24;
  const lines = LINES.map((_, n) =>
    shape("line", { class: "stave", x1: 0, x2: width, y1: 12 + 14 * n, y2: 12 + 14 * n }));
  const heads = Array.from({ length: size }, (_, n) =>
    shape("circle", {
      class: n < had ? "note full" : "note", r: 8, cx: 24 + apart * n,
      cy: 12 + 14 * LINES[n % LINES.length],
    }));
  return shape("svg", {
    class: "round", viewBox: `0 0 ${width} 80`, role: "img",
    "aria-label": `${had} of ${size} have had a turn this round`,
  }, ...lines, ...heads);
}
