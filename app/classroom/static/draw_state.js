/**
 * The hat of this device as it lies in its memory. Every change reads it, writes it, and only then
 * shows; a record is written beside the hat first, so that a page that is closed between the two
 * has lost neither. Two windows of one device take turns.
 */

import * as hats from "./hat.js";
import * as talk from "./hat_talk.js";

const NAME = "hat";
const FEED = "participation_draws";

/** The hat as noted, or the one of a device that begins. */
export function read(kit) {
  return kit.noted(NAME) ?? hats.begin(kit.fresh());
}

/** One window at a time, where the browser can tell them apart. */
function alone(job) {
  return navigator.locks ? navigator.locks.request("roundelay hat", job) : job();
}

/**
 * Change the hat by a function and keep it; what it is now.
 * @throws {Full} when the device takes no more: nothing has changed then
 */
export function change(kit, how) {
  return alone(async () => {
    const before = read(kit);
    const after = how(before);
    if (after !== before) kit.note(NAME, after);
    return keepAll(kit, after);
  });
}

/** Keep the records that stand beside the hat; again after a page was closed in between. */
async function keepAll(kit, hat) {
  if (!hat.unkept.length) return hat;
  for (const record of hat.unkept) {
    try {
      await kit.keep(record);
    } catch (problem) {
      if (problem.message !== "This was saved before.") throw problem;
    }
  }
  const kept = { ...hat, unkept: [] };
  kit.note(NAME, kept);
  return kept;
}

/** Where and when a new draw stands: its key sorts after every draw that is known here. */
export function place(kit, hat) {
  const clock = Math.max(Date.now(), hat.clock + 1);
  return { day: kit.now().day, clock, draw_id: keyOf(clock) };
}

/** A UUID (version 7) of a moment: files of records are then read in the order of the draws. */
export function keyOf(clock) {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const moment = clock.toString(16).padStart(12, "0");
  bytes[6] = (bytes[6] & 15) | 112;
  bytes[8] = (bytes[8] & 63) | 128;
  const hex = moment + [...bytes.slice(6)].map((one) => one.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

/** The row of a draw, as its contract asks; the server adds the class. */
export function cells(kit, drawn, second) {
  const at = new Date(second * 1000);
  const { time, moment } = kit.now(at);
  const text = (value) => (value ? String(value) : "");
  const isCycle = drawn.method === "cycle";
  return {
    draw_id: drawn.draw_id, drawn_on: drawn.day, drawn_at_local: `${time}:${String(at.getSeconds()).padStart(2, "0")}`,
    sequence_number: String(drawn.sequence), cycle_number: isCycle ? String(drawn.round) : "",
    method: drawn.method, pupil_id: drawn.pupil_id, outcome: drawn.outcome,
    wait_seconds: drawn.waited ?? "", eligible_count: text(drawn.eligible), context: "",
    entered_at: moment,
  };
}

/**
 * The hat with the row of a draw beside it. Two rows of one device never name the same second: rows
 * that say the same in everything but their key would be taken for one that came twice.
 */
function written(kit, hat, drawn) {
  const second = Math.max(Math.floor(Date.now() / 1000), (hat.second ?? 0) + 1);
  const row = cells(kit, drawn, second);
  return { hat: beside({ ...hat, second }, drawn.draw_id, 1, row), row };
}

function beside(hat, key, revision, row) {
  return { ...hat, unkept: [...hat.unkept, { key, revision, feed: FEED, cells: row }] };
}

/** The outcome of the name that is shown, with its record. */
export function settle(kit, outcome) {
  return change(kit, (hat) => {
    if (!hat.shown) return hat;
    const next = hats.settle(hat, outcome);
    const { hat: kept, row } = written(kit, next, next.last);
    return { ...kept, last: { ...kept.last, row } };
  });
}

/** Take the last draw back: its row is withdrawn, the name stands there again. */
export function undo(kit) {
  return change(kit, (hat) => {
    if (!hat.last || hat.shown) return hat;
    const { draw_id, row } = hat.last;
    const next = hats.undo(hat, place(kit, hat));
    return beside(next, draw_id, 2, { ...row, voided: "true" });
  });
}

/** Draw a name; where the next round begins here, children who are away come up in this one first. */
export function draw(kit, waited) {
  return change(kit, (hat) => {
    const { day } = kit.now();
    const begins = hats.isOut(hat, day) && hat.alone && !hat.shown;
    const now = begins ? marked(kit, hat) : hat;
    const next = hats.draw(now, place(kit, now));
    return next.shown && !hat.shown ? { ...next, shown: { ...next.shown, waited } } : next;
  });
}

function marked(kit, hat) {
  let now = hat;
  for (const pupil_id of hats.unmarked(hat, kit.now().day)) {
    const { hat: next, drawn } = hats.absent(now, place(kit, now), pupil_id);
    now = written(kit, next, drawn).hat;
  }
  return now;
}

/**
 * Be in touch with the server once: tell what happened, hear what is here.
 * @returns {Promise<object>} the hat afterwards; throws what `kit.ask` throws
 */
export async function contact(kit, { begins = false } = {}) {
  const { day } = kit.now();
  const waiting = new Set(kit.queue().filter((one) => one.state === "waiting").map((one) => one.record.key));
  const isWaiting = (draw_id) => waiting.has(draw_id);
  let body = null;
  await change(kit, (hat) => {
    const now = begins ? marked(kit, hat) : hat;
    const made = talk.compose(now, day, { isWaiting, begins });
    body = made.body;
    return made.hat;
  });
  const answer = await kit.ask("hat", body);
  return change(kit, (hat) => talk.anew(talk.merge(hat, answer, day), kit.fresh()));
}
