/** What stands on the draw screen: the wait, the name, the answers, and what else can be done. */

import * as hats from "./hat.js";
import { place } from "./draw_state.js";
import { ring } from "./draw_shapes.js";
import { OUTCOMES, WAYS, idle, waitedWords } from "./draw_words.js";

const STEP = 100;
let timer = null;

/** The wait runs no longer. */
export function stop() {
  clearInterval(timer);
  timer = null;
}

/** A child's name from the pack; the pack has names, the hat has none. */
export function name(kit, pupil_id) {
  return kit.pack?.pupils?.find((one) => one.pupil_id === pupil_id)?.name ?? "A child of the class";
}

/** Who is shown: a child, or all together. */
export function nameOf(kit, shown) {
  return shown.method === "choral" ? "Everyone" : name(kit, shown.pupil_id);
}

/** What to say about a problem; null for one that is ours. No net is no problem: the line above says it. */
export function troubleWords(problem, kit) {
  if (problem instanceof kit.Offline || problem instanceof kit.Ended) return "";
  if (problem instanceof kit.Full) return "This device has no room left, so this was not saved. Send what waits, or use another device.";
  return problem instanceof kit.Answered ? problem.words : null;
}

/** The one thing that is on now: choosing a child, the name, the wait, or the next question. */
export function scene(kit, hat, picked, acts) {
  stop();
  if (hat.shown) return shownScene(kit, hat, acts);
  if (hat.asked) return waitScene(kit, hat.asked, acts);
  if (picked) return pickScene(kit, picked, acts);
  return idleScene(kit, hat, acts);
}

function button(kit, words, onclick, kind = "") {
  return kit.el("button", { type: "button", class: kind || null, onclick }, words);
}

function idleScene(kit, hat, acts) {
  const { lead, can } = idle(hat, kit.now().day);
  const { picture } = ring();
  const main = can ? button(kit, "Wait, then a name", () => acts.ask(), "main") : null;
  const others = ["partner", "choral"].map((way) =>
    button(kit, WAYS[way].word, () => acts.way(way), "quiet strong"));
  const back = hat.left !== null ? button(kit, "Go on drawing", acts.comeBack, "main") : null;
  return kit.el("div", { class: "idle" },
    kit.el("p", { class: "lead" }, lead), can ? kit.el("div", { class: "circle" }, picture) : null,
    kit.el("div", { class: "actions" }, back ?? main, back ? null : others));
}

function waitScene(kit, asked, acts) {
  const { picture, fill } = ring();
  const whole = (kit.pack?.wait_seconds ?? 3) * 1000;
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const tick = () => {
    const over = Date.now() - asked.at;
    // A clock that was set back does not keep everybody waiting.
    if (over >= whole || over < 0) {
      stop();
      acts.reveal(asked);
    } else fill(calm ? Math.floor(over / 1000) / Math.max(Math.floor(whole / 1000), 1) : over / whole);
  };
  timer = setInterval(tick, STEP);
  return kit.el("div", { class: "wait" },
    kit.el("p", { class: "lead" }, WAYS[asked.way]?.lead ?? "Everyone holds an answer."),
    kit.el("div", { class: "circle" }, picture, kit.el("p", { class: "inside" }, "think")),
    kit.el("div", { class: "actions" }, button(kit, "Stop the wait", acts.stop, "quiet")));
}

function shownScene(kit, hat, acts) {
  const { shown } = hat;
  const words = nameOf(kit, shown);
  const title = kit.el("p", { class: "name-shown", tabindex: "-1" }, words);
  title.style.setProperty("--letters", String(Math.max(longest(words), 4)));
  const may = OUTCOMES.filter(([code]) => shown.method !== "choral" || !["absent", "unavailable"].includes(code));
  return kit.el("div", { class: "shown" },
    kit.el("div", { class: "panel" }, title,
      kit.el("p", { class: "note" }, shown.again ? "Taken back: tap what it should say." : waitedWords(shown.waited))),
    kit.el("div", { class: "outcomes", role: "group", "aria-label": "What came of it" },
      may.map(([code, word]) => button(kit, word, () => acts.settle(code), "quiet strong"))),
    shown.again ? kit.el("p", {}, button(kit, "Put the name back into the hat", acts.putBack, "quiet")) : null);
}

function longest(words) {
  return Math.max(...words.split(/\s+/).map((one) => one.length));
}

function pickScene(kit, way, acts) {
  const { lead, who } = WAYS[way];
  return kit.el("div", { class: "pick" },
    kit.el("p", { class: "lead" }, lead), kit.el("h2", {}, who),
    kit.el("ul", { class: "names" }, (kit.pack?.pupils ?? []).map((one) =>
      kit.el("li", {}, button(kit, one.name, () => acts.chosen(way, one.pupil_id), "quiet strong")))),
    kit.el("div", { class: "actions" },
      way === "partner" ? button(kit, "A name out of the hat", () => { acts.pick(null); acts.ask(); }, "quiet") : null,
      button(kit, "Not now", () => acts.pick(null), "quiet")));
}

/** A name that is found without the round: everybody, the longest wait, or any name at all. */
export function otherWay(kit, hat, way, waited) {
  const { day } = kit.now();
  const may = hat.eligible.filter((one) => hat.away[one] !== day);
  const pupils = may.length ? may : (kit.pack?.pupils ?? []).map((one) => one.pupil_id);
  const found = way === "choral" ? "" : way === "queue" ? waitsLongest(kit, hat, pupils)
    : pupils[hats.below(pupils.length)];
  if (found === undefined) return { ...hat, asked: null };
  const eligible = way === "with_replacement" ? pupils.length : 0;
  const next = hats.show(hat, place(kit, hat), way, found, eligible);
  const queued = way === "queue" ? { ...hat.queued, [found]: next.clock } : hat.queued;
  return { ...next, asked: null, queued, shown: { ...next.shown, waited } };
}

/** The first in the queue of the build who has not been asked from the queue here since. */
function waitsLongest(kit, hat, pupils) {
  const places = kit.pack?.queue ?? [];
  const place = (one) => [hat.queued?.[one] ?? 0, places.includes(one) ? places.indexOf(one) : Infinity];
  return [...pupils].sort((one, other) => {
    const [a, b] = [place(one), place(other)];
    return a[0] - b[0] || a[1] - b[1];
  })[0];
}

/** What stands below: take back, who is away, other ways, lost devices, the end of the day. */
export function more(kit, hat, day, picked, acts, open) {
  if (hat.shown || hat.asked || picked) return [];
  const away = hat.eligible.filter((one) => hat.away[one] === day);
  const left = hat.left !== null;
  const drawer = (key, title, inside) => drawerOf(kit, open, key, title, inside);
  return [
    kit.el("div", { class: "row quiet-row" },
      hat.last ? button(kit, "Undo last", acts.undo, "quiet") : null,
      !left && hat.known ? button(kit, "End for today", acts.leave, "quiet") : null),
    away.length ? drawer("away", `Away today (${away.length})`, away.map((one) =>
      button(kit, `${name(kit, one)} is here now`, () => acts.here(one), "quiet"))) : null,
    left ? null : drawer("ways", "Another way to ask", ["volunteer", "teacher_choice", "queue", "with_replacement"].map(
      (way) => button(kit, WAYS[way].word, () => acts.way(way), "quiet"))),
    hat.holders.length ? drawer("others", "Other devices", hat.holders.map((one) => holder(kit, one, acts))) : null,
  ].filter(Boolean);
}

/** A drawer stays as it was left, open or closed, when the screen is drawn anew. */
function drawerOf(kit, open, key, title, inside) {
  const ontoggle = (event) => (event.target.open ? open.add(key) : open.delete(key));
  return kit.el("details", { open: open.has(key), ontoggle },
    kit.el("summary", {}, title), kit.el("div", { class: "row" }, inside));
}

function holder(kit, one, acts) {
  const quiet = one.quiet_minutes < 2 ? "in touch just now" : one.quiet_minutes < 120
    ? `last in touch ${one.quiet_minutes} minutes ago` : `last in touch ${Math.round(one.quiet_minutes / 60)} hours ago`;
  return kit.el("div", { class: "holder" },
    kit.el("p", {}, `A device with ${one.names} ${one.names === 1 ? "name" : "names"}, ${quiet}. ` +
      "If it is lost, its names can go back into the hat; what it drew is still written down when it sends."),
    button(kit, "It is lost: take its names back", () => acts.endOther(one.device), "quiet"));
}

/** Where the keyboard goes when what had it is gone: to the name, or to the next step. */
export function focus(home) {
  home.querySelector(".name-shown, .actions button, .outcomes button")?.focus({ preventScroll: true });
}
