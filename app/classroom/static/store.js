/**
 * What this device keeps: the queue of records, the pack, and small notes of the screens.
 *
 * Everything lies in localStorage, one entry a record, so that a page that is closed in the middle
 * of a word has lost nothing and two windows do not write over each other.
 */

/** Where the pack lies: other windows hear when it changes. */
export const PACK = "roundelay pack";
const QUEUE = "roundelay waiting ";
const NOTE = "roundelay note ";
const DEVICE = "roundelay device";
const ORDER = "roundelay order";
let unkept = null;

/** This device does not take any more; nothing of the record was kept. */
export class Full extends Error {
  constructor() {
    super("This device has no room left. Nothing was saved just now.");
    this.name = "Full";
  }
}

/** Write a text and read it back; `Full` when the device does not hold it. */
function hold(name, text) {
  try {
    localStorage.setItem(name, text);
  } catch (problem) {
    throw new Full();
  }
  if (localStorage.getItem(name) !== text) throw new Full();
}

/** The same for what can be done without; whether the device holds it. */
function holdIfRoom(name, text) {
  try {
    hold(name, text);
    return true;
  } catch (problem) {
    if (!(problem instanceof Full)) throw problem;
    return false;
  }
}

function held(name) {
  const text = localStorage.getItem(name);
  if (text === null) return null;
  try {
    return JSON.parse(text);
  } catch (problem) {
    return null;
  }
}

function names(prefix) {
  return Object.keys(localStorage).filter((name) => name.startsWith(prefix));
}

/** A number that grows with every record of this device, in whatever window it was made. */
function next() {
  const number = (held(ORDER) ?? 0) + 1;
  hold(ORDER, JSON.stringify(number));
  return number;
}

const slot = (record) => `${QUEUE}${record.key} ${String(record.revision).padStart(2, "0")}`;

/**
 * Put a record into the queue; it stands on the device when this returns.
 * @param {object} record `{key, revision, feed, cells, rows, by}`
 * @param {string} owner whose record it is: a class's, or one person's. Only for them it is sent.
 */
export function put(record, owner) {
  if (localStorage.getItem(slot(record)) !== null) throw new Error("This was saved before.");
  const entry = { record, owner, order: next(), state: "waiting", reasons: [] };
  hold(slot(record), JSON.stringify(entry));
}

/** Every record that is still here, in the order in which they were made. */
export function queue() {
  return names(QUEUE)
    .map(held)
    .filter((entry) => entry !== null)
    .sort((one, other) => one.order - other.order);
}

/** A record is in the school's hands: it leaves the queue. */
export function done(record) {
  localStorage.removeItem(slot(record));
}

/**
 * A record was not taken, and why. It stays here until somebody has looked at it; a device without
 * room for the reasons keeps at least that it was refused, which is no longer than that it waits.
 */
export function refuse(record, reasons) {
  const entry = held(slot(record));
  if (!entry) return;
  const told = (why) => JSON.stringify({ ...entry, state: "refused", reasons: why });
  if (!holdIfRoom(slot(record), told(reasons))) hold(slot(record), told([]));
}

/** Take a refused record out of the queue; one that only waits is never thrown away. */
export function forget(key) {
  for (const entry of queue()) {
    if (entry.record.key === key && entry.state === "refused") done(entry.record);
  }
}

/** The last pack of this device, or null. */
export function pack() {
  return held(PACK);
}

/** Keep a pack for times without a net; an old one stays when there is no room. */
export function keepPack(fresh) {
  holdIfRoom(PACK, JSON.stringify(fresh));
}

/** The names of the children leave this device; queue and notes, which know only keys, stay. */
export function wipe() {
  localStorage.removeItem(PACK);
}

/** A small thing that a screen must not forget, apart for each owner. No child's name in it. */
export function note(owner, name, value) {
  const place = `${NOTE}${owner} ${name}`;
  if (value === null || value === undefined) localStorage.removeItem(place);
  else hold(place, JSON.stringify(value));
}

/** What was noted under a name, or null. */
export function noted(owner, name) {
  return held(`${NOTE}${owner} ${name}`);
}

/**
 * The key of this device: made once, says nothing about whose it is. On a device that has no room to
 * keep it, it lives as long as the page: records are sent all the same, and make room.
 */
export function device() {
  const known = held(DEVICE);
  if (known) return known;
  const made = unkept ?? fresh();
  unkept = holdIfRoom(DEVICE, JSON.stringify(made)) ? null : made;
  return made;
}

/** A key that nobody has used before (UUID, version 4). */
export function fresh() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 15) | 64;
  bytes[8] = (bytes[8] & 63) | 128;
  const hex = [...bytes].map((one) => one.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}
