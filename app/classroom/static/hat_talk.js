/**
 * What a device and the server say to each other about the hat. The device tells all its news until
 * it is heard, in messages that it numbers; it takes the answer to its latest message and no other.
 * For names that its untold news is about it knows better, for all others the server does.
 */

import { begin, bits, some, tell } from "./hat.js";

/** So much news goes into one message; the rest follows in the next. */
const MOST_NEWS = 300;

/**
 * The next message. News about a draw whose record still waits on this device is not told yet, so
 * that a number of the day is known to others only once its record has arrived.
 * @param {object} hat
 * @param {string} day
 * @param {{isWaiting?: (draw_id: string) => boolean, begins?: boolean}} [how]
 * @returns {{hat: object, body: object}}
 */
export function compose(hat, day, { isWaiting = () => false, begins = false } = {}) {
  const stop = hat.news.findIndex((one) => one.draw_id && isWaiting(one.draw_id));
  const news = hat.news.slice(0, Math.min(stop < 0 ? Infinity : stop, MOST_NEWS));
  const message = hat.message + 1;
  const sent = Math.max(hat.sent, news.at(-1)?.number ?? 0);
  const body = {
    device: hat.device, message, day, news,
    wants: hat.left === null,
    // Whoever has begun a round by itself is known as alone until that has been told.
    alone: hat.alone || news.length < hat.news.length,
    begins: begins ? hat.round + 1 : 0,
  };
  return { hat: { ...hat, message, sent }, body };
}

/**
 * The hat after an answer. An answer to an older message is passed over. When another device asks
 * for names, a random half of what has not been drawn is given back.
 */
export function merge(hat, answer, day, random = bits) {
  if (answer.message !== hat.message) return hat;
  const news = hat.news.filter((one) => one.number > answer.heard);
  const next = { ...hat, news, known: true, state: answer.state, ...around(hat, answer, news, day) };
  if (answer.state === "ended") return { ...next, share: [], first: [], alone: false, over: false };
  if (hat.left !== null) return next;
  const merged = answer.round < hat.round ? { ...next, alone: answer.alone } : taken(next, answer);
  return answer.wanted ? giveBack(merged, day, random) : merged;
}

/** What does not depend on who holds which name. */
function around(hat, answer, news, day) {
  const { others, elsewhere, lying, holders, over, eligible } = answer;
  const isUndone = news.some((one) => one.what === "undone");
  const own = hat.top.day === day ? hat.top : { day, number: 0, free: [] };
  const top = isUndone ? own : { ...own, number: Math.max(own.number, answer.sequence) };
  const clock = Math.max(hat.clock, answer.clock);
  return { others, elsewhere, lying, holders, over: over && !news.length, eligible, top, clock };
}

function taken(hat, answer) {
  if (answer.round > hat.round) {
    const { round, share, first, away, marked, had, alone } = answer;
    return { ...hat, round, share, first, away, marked, had, alone, later: null };
  }
  const touched = new Set(hat.news.map((one) => one.pupil_id).filter(Boolean));
  const both = (theirs, ours) => [
    ...theirs.filter((one) => !touched.has(one)), ...ours.filter((one) => touched.has(one)),
  ];
  const away = Object.fromEntries([
    ...Object.entries(answer.away).filter(([one]) => !touched.has(one)),
    ...Object.entries(hat.away).filter(([one]) => touched.has(one)),
  ]);
  return {
    // Untold news may be about a name that only the server knows to be here: alone only without.
    ...hat, away, alone: answer.alone && (hat.alone || !hat.news.length),
    share: both(answer.share, hat.share), first: both(answer.first, hat.first),
    marked: both(answer.marked, hat.marked),
    had: hat.news.length ? hat.had : answer.had,
  };
}

/** Half of the names that may still be drawn here, and all of children who are away. */
export function giveBack(hat, day, random = bits) {
  if (hat.news.some((one) => one.what === "back")) return hat;
  const mine = hat.share.filter((one) => one !== hat.shown?.pupil_id);
  const here = mine.filter((one) => hat.away[one] !== day);
  const count = Math.floor((here.length + (hat.shown ? 1 : 0)) / 2);
  const given = [...some(here, count, random), ...mine.filter((one) => hat.away[one] === day)];
  const less = { ...hat, alone: false, share: hat.share.filter((one) => !given.includes(one)) };
  return given.reduce(
    (now, pupil_id) => tell(now, { what: "back", round: hat.round, pupil_id }), less,
  );
}

/** End for today: every name goes back into the hat, as soon as the server hears of it. */
export function leave(hat) {
  if (hat.shown || hat.left !== null) return hat;
  const { share, first, alone } = hat;
  const told = tell({ ...hat, share: [], first: [], alone: false, last: null }, { what: "leaves" });
  return { ...told, left: { share, first, alone, number: told.number } };
}

/** Go on after all. What nobody has been told yet did not happen. */
export function comeBack(hat) {
  if (hat.left === null) return hat;
  const { share, first, alone, number } = hat.left;
  if (number <= hat.sent || number !== hat.number) return { ...hat, left: null };
  const news = hat.news.filter((one) => one.number !== number);
  return { ...hat, share, first, alone, news, number: number - 1, left: null };
}

/** A device that a teacher has ended begins anew under another key, once all it drew is told. */
export function anew(hat, device) {
  if (hat.state !== "ended" || hat.news.length || hat.shown) return hat;
  const { clock, top, second, unkept } = hat;
  return { ...begin(device), clock, top, second, unkept };
}
