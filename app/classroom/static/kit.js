/**
 * What a screen may use, and nothing else: the pack, keeping a record, small notes, asking the
 * server, saying something, and making elements. Screens never touch the queue or the net.
 */

import * as store from "./store.js";
import { Sender } from "./send.js";
import { Answered, Ended, Offline, ask } from "./talk.js";

export { Answered, Ended, Full, Offline };
const { Full } = store;

const listeners = { queue: new Set(), online: new Set(), pack: new Set(), over: new Set() };
const state = { pack: store.pack(), isOnline: navigator.onLine, isOver: false, words: "" };
const sender = new Sender(owners, heard);

/** Whose records may be sent now: those of the class, and those of the very person. */
function owners() {
  return state.pack ? [state.pack.owner, state.pack.self] : [];
}

/** The current pack; the one of last time while there is no net. Null before the first. */
export function pack() {
  return state.pack;
}

/** How things stand: `{isOnline, isOver, words}`. */
export function standing() {
  const { isOnline, isOver, words } = state;
  return { isOnline, isOver, words };
}

/** A key for something new (UUID, version 4). */
export const fresh = store.fresh;

/**
 * The present day, time and moment. In the invented school the day is the one of its build and
 * there is no moment: a record written after its last day would not count there.
 */
export function now(at = new Date()) {
  const two = (number) => String(number).padStart(2, "0");
  const day = `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  const time = `${two(at.getHours())}:${two(at.getMinutes())}`;
  if (state.pack?.is_demo) return { day: state.pack.today, time, moment: "" };
  const east = -at.getTimezoneOffset();
  const apart = `${two(Math.floor(Math.abs(east) / 60))}:${two(Math.abs(east) % 60)}`;
  const moment = `${day}T${time}:${two(at.getSeconds())}${east < 0 ? "-" : "+"}${apart}`;
  return { day, time, moment };
}

/**
 * Keep a record: it stands on this device when this resolves, and is sent by itself.
 * @param {{key: string, revision: number, feed: string, cells: object, rows?: object[]}} record
 * @throws {Full} when the device has no room; nothing was kept
 */
export async function keep(record) {
  if (!state.pack) throw new Ended();
  const { owner, self } = state.pack;
  // What somebody saw is hers alone; what happened in a class is sent by anybody of the class.
  const whose = record.feed === "observation_sessions" ? self : owner;
  store.put({ ...record, by: self }, whose);
  tell("queue");
  sender.now();
}

/** What is still here: `[{record, owner, state: "waiting" | "refused", reasons}]`. */
export const queue = store.queue;

/** Take a refused record away, after the person was asked; a waiting one stays. */
export function forget(key) {
  store.forget(key);
  tell("queue");
}

/** Keep a small thing of a screen (null: forget it). Never a child's name. Throws `Full`. */
export function note(name, value) {
  store.note(state.pack?.owner ?? "", name, value);
}

/** What was noted, or null. */
export function noted(name) {
  return store.noted(state.pack?.owner ?? "", name);
}

/** Ask the server below `api/classroom/`. Throws `Offline`, `Ended`, or `Answered` with words. */
export async function asking(path, body) {
  try {
    const told = await ask(path, body);
    heard({ isOnline: true });
    return told;
  } catch (problem) {
    if (problem instanceof Offline) heard({ isOnline: false });
    if (problem instanceof Ended) heard({ isOnline: true, isOver: true });
    throw problem;
  }
}

/** Hear of news: "queue", "online", "pack" or "over". Gives a function that ends it. */
export function on(name, hear) {
  listeners[name].add(hear);
  return () => listeners[name].delete(hear);
}

function tell(name) {
  for (const hear of listeners[name]) hear();
}

function heard({ isOnline, isOver = false, words = "" }) {
  const isNews = isOnline !== state.isOnline || words !== state.words;
  Object.assign(state, { isOnline, words });
  if (isOver) end();
  if (isNews) tell("online");
  tell("queue");
}

/** The visit is over: names leave the device, the queue stays. */
export function end() {
  store.wipe();
  const isNews = !state.isOver;
  Object.assign(state, { isOver: true, pack: null });
  if (isNews) tell("over");
}

/** Another window of this device has sent something, fetched a pack, or seen the visit end. */
addEventListener("storage", ({ key }) => {
  if (key === store.PACK) {
    const now = store.pack();
    if (now === null) return end();
    state.pack = now;
    state.isOver = false;
    tell("pack");
  }
  return tell("queue");
});

/** Fetch the pack anew; the one of last time stays while there is no net. */
export async function refresh() {
  const told = await asking("pack");
  state.pack = told;
  state.isOver = false;
  store.keepPack(told);
  tell("pack");
  sender.now();
  return told;
}

/** Send what waits, now. */
export function send() {
  return sender.now();
}

/** Say something to whoever listens instead of looking; politely. */
export function say(text) {
  const place = document.getElementById("said");
  place.textContent = "";
  requestAnimationFrame(() => (place.textContent = text));
}

/** Go to a screen, as "#draw". */
export function go(where) {
  location.hash = where;
}

/**
 * Make an element. Text is always text: nothing in it is ever read as HTML.
 * @param {string} tag its name, as "button"
 * @param {object} [attributes] "onclick" and the like are listeners; true sets, false and null omit
 * @param {...(Node|string|number|null|Array)} children
 * @returns {HTMLElement}
 */
export function el(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") made.addEventListener(name.replace(/^on/, ""), value);
    else made.setAttribute(name, value === true ? "" : value);
  }
  const given = children.flat(Infinity).filter((one) => one !== null && one !== undefined && one !== false);
  made.append(...given.map((one) => (one instanceof Node ? one : String(one))));
  return made;
}

/** The kit as one object, as the screens get it; `kit.pack` is always the current one. */
export const kit = {
  get pack() {
    return state.pack;
  },
  get isOnline() {
    return state.isOnline;
  },
  fresh, now, keep, queue, forget, note, noted, ask: asking, on, say, go, el, standing,
  Full, Offline, Ended, Answered,
};
