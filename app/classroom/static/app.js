/** The classroom page: what stands around the screens, and which of them is shown. */

import { Answered, Ended, Offline, kit, end, refresh, send } from "./kit.js";
import { address } from "./talk.js";

const SCREENS = {
  lesson: { word: "Lesson", roles: ["teacher"] },
  draw: { word: "Draw", roles: ["teacher"] },
  look: { word: "Look round", roles: ["teacher", "support"] },
  home: { word: "Home", roles: ["teacher"] },
  tablet: { word: "This tablet", roles: ["teacher", "support"] },
};
const FRESH_EVERY = 5 * 60 * 1000;
// A page that nobody touches asks for nothing: else it would keep a visit alive by itself.
const TOUCHED_WITHIN = 10 * 60 * 1000;

const { el } = kit;
const place = document.getElementById("place");
const shown = { name: "", module: null, turn: 0 };

/** The screens of this reader, in the order of the bar. */
function own() {
  const role = kit.pack?.role ?? "";
  return Object.keys(SCREENS).filter((name) => SCREENS[name].roles.includes(role));
}

function asked() {
  const name = location.hash.replace(/^#/, "").split("/")[0];
  return own().includes(name) ? name : own()[0];
}

/** Show the screen that the address names. A slower one that was asked for before gives way. */
async function show() {
  const turn = (shown.turn += 1);
  shown.module?.leave?.();
  shown.module = null;
  if (!kit.pack) return;
  const name = asked();
  bar(name);
  const module = await import(`./${name}.js`).catch(() => null);
  if (turn !== shown.turn) return;
  Object.assign(shown, { name, module });
  document.title = `${SCREENS[name].word} · Roundelay`;
  const home = el("div", { class: `screen ${name}` });
  place.replaceChildren(home);
  place.scrollTop = 0;
  if (module) await module.show(home, kit);
  else home.append(el("h1", {}, SCREENS[name].word),
    el("p", {}, "This part of the page has not reached this device yet. It needs the school’s network once."),
    el("p", {}, el("button", { type: "button", onclick: () => location.reload() }, "Try again")));
}

function bar(current) {
  const links = own().map((name) =>
    el("a", { href: `#${name}`, "aria-current": name === current ? "page" : null },
      SCREENS[name].word));
  document.getElementById("bar").replaceChildren(...links);
}

/** Whose class this is, and how the queue stands: always visible, always calm. */
function head() {
  document.getElementById("class").textContent = kit.pack?.class?.title ?? "Roundelay";
  document.getElementById("back").hidden = kit.pack?.is_paired === true;
  const line = document.getElementById("queue");
  line.textContent = queueWords(kit.queue(), kit.standing());
  line.classList.toggle("off", !kit.standing().isOnline);
}

/** The line of the queue, as "saved here · 3 waiting to send". */
export function queueWords(entries, { isOnline, isOver }) {
  const refused = entries.filter((entry) => entry.state === "refused").length;
  const waiting = entries.length - refused;
  const parts = [];
  if (!isOnline) parts.push("no connection");
  if (waiting) parts.push(`saved here · ${waiting} waiting to send`);
  if (refused) parts.push(`${refused} to look at`);
  if (isOver && waiting) parts.push("sign in to send");
  if (!parts.length || (!isOnline && parts.length === 1)) parts.push("all sent");
  return parts.join(" · ");
}

/** A page in the place of a screen: what happened, what is safe, what to do. */
function state(title, ...more) {
  shown.name = "";
  shown.turn += 1;
  shown.module?.leave?.();
  shown.module = null;
  document.getElementById("bar").replaceChildren();
  place.replaceChildren(el("div", { class: "screen state" }, el("h1", {}, title), more));
  document.title = `${title} · Roundelay`;
}

function signedOut() {
  const waiting = kit.queue().length;
  state(
    "Sign in to go on",
    el("p", {}, "The visit is over, so the names of the class have left this device."),
    waiting
      ? el("p", {}, `${waiting === 1 ? "1 record is" : `${waiting} records are`} saved here and will be sent as soon as somebody of the same class has signed in.`)
      : null,
    el("p", {}, el("a", { class: "button", href: address("signin?next=/classroom") }, "Sign in")),
    el("p", {}, el("a", { class: "button second", href: address("classroom/pair") },
      "This is a class tablet: use a code")),
  );
  head();
}

async function begin() {
  if (kit.pack?.until && Date.now() / 1000 > kit.pack.until) end();
  try {
    await refresh();
  } catch (problem) {
    trouble(problem);
  }
}

function trouble(problem) {
  if (problem instanceof Ended) return;
  if (problem instanceof Answered) {
    state(problem.told?.title ?? "This page cannot be shown", el("p", {}, problem.words),
      el("p", {}, el("a", { class: "button", href: address("") }, "To the dashboard")));
  } else if (!(problem instanceof Offline)) {
    throw problem;
  } else if (!kit.pack && !kit.standing().isOver) {
    state("No connection", el("p", {}, "This page needs the school’s network once, to fetch the class. What was saved on this device is safe."),
      el("p", {}, el("button", { type: "button", onclick: begin }, "Try again")));
  }
}

/** Take a new version up calmly: it is there at the next start, or at once if wanted. */
async function worker() {
  if (!("serviceWorker" in navigator)) return;
  const scope = new URL(address("classroom")).pathname;
  const found = await navigator.serviceWorker
    .register(address("classroom/worker.js"), { scope, updateViaCache: "none" })
    .catch(() => null);
  if (!found) return;
  found.addEventListener("updatefound", () => {
    const coming = found.installing;
    coming.addEventListener("statechange", () => {
      if (coming.state === "installed" && navigator.serviceWorker.controller) offer(coming);
    });
  });
}

function offer(coming) {
  const line = document.getElementById("news");
  const take = () => {
    navigator.serviceWorker.addEventListener("controllerchange", () => location.reload());
    coming.postMessage("take over");
  };
  line.replaceChildren("There is a newer version of this page. ",
    el("button", { type: "button", onclick: take }, "Use it now"));
  line.hidden = false;
}

function listen() {
  addEventListener("hashchange", show);
  addEventListener("online", () => { begin(); send(); });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") { begin(); send(); }
  });
  let touched = Date.now();
  for (const name of ["pointerdown", "keydown"]) addEventListener(name, () => (touched = Date.now()));
  setInterval(() => Date.now() - touched < TOUCHED_WITHIN && begin(), FRESH_EVERY);
  kit.on("queue", head);
  kit.on("online", head);
  kit.on("over", signedOut);
  let before = kit.pack?.owner;
  kit.on("pack", () => {
    head();
    // A screen that is being used is not drawn anew under the finger.
    if (!shown.name || before !== kit.pack.owner) show();
    before = kit.pack.owner;
  });
}

listen();
head();
if (kit.pack) show();
begin();
send();
worker();
