/**
 * The share of the hat that one device holds, as values and functions from one to the next.
 * No page, no net, no clock: what happens is an argument. A drawn name is chosen at the moment it
 * is drawn, each of the names that may come with the same chance; there is no order beforehand.
 */

/** Outcomes that are a turn; after the others the name comes again. */
export const TURNS = new Set(["answered", "helped", "passed", "other_way"]);

/** Random 32 bits from the system's own cryptographic source. */
export function bits() {
  return crypto.getRandomValues(new Uint32Array(1))[0];
}

/**
 * A whole number from 0 to below `n`, each with exactly the same chance: numbers from the ragged
 * end of the 32 bits are thrown away, so that no remainder comes up more often than another.
 * @param {number} n from 1 to 2 ** 32
 * @param {() => number} [random] 32 random bits
 */
export function below(n, random = bits) {
  const end = 2 ** 32 - (2 ** 32 % n);
  for (;;) {
    const number = random();
    if (number < end) return number % n;
  }
}

/** `count` of the items, every choice of so many with the same chance. */
export function some(items, count, random = bits) {
  const left = [...items];
  const taken = [];
  while (taken.length < count && left.length) {
    const [one] = left.splice(below(left.length, random), 1);
    taken.push(one);
  }
  return taken;
}

/** What a device knows before it was ever in touch about names. */
export function begin(device) {
  return {
    device, message: 0, number: 0, news: [], known: false, state: "open",
    sent: 0, left: null, round: 0, share: [], first: [], away: {}, eligible: [], had: 0,
    marked: [], alone: false, over: false, others: 0, elsewhere: 0, lying: 0, holders: [],
    top: { day: "", number: 0, free: [] }, clock: 0, later: null,
    asked: null, shown: null, last: null, unkept: [],
  };
}

/** The names of the share that may be drawn on a day: those that come first, if any are there. */
export function names(hat, day) {
  const here = hat.share.filter((one) => hat.away[one] !== day);
  const first = here.filter((one) => hat.first.includes(one));
  const may = first.length ? first : here;
  // "Later" is not asked again at once while there is anybody else.
  const others = may.filter((one) => one !== hat.later);
  return others.length ? others : may;
}

/** Whether this device may draw a name now; it may begin the next round by itself if it is alone. */
export function canDraw(hat, day) {
  return names(hat, day).length > 0 || canBegin(hat, day);
}

/** Whether no name of this device's share can be drawn on a day any more. */
export function isOut(hat, day) {
  return names(hat, day).length === 0;
}

function canBegin(hat, day) {
  return hat.alone && hat.eligible.some((one) => hat.away[one] !== day);
}

/**
 * Draw a name. It stands as `shown` until its outcome is told; asked again, it stays the same.
 * @param {object} hat
 * @param {{day: string, draw_id: string, clock: number}} at
 * @param {() => number} [random]
 */
export function draw(hat, at, random = bits) {
  if (hat.shown) return hat;
  const now = isOut(hat, at.day) ? nextRound(hat, at.day) : hat;
  const may = names(now, at.day);
  if (!may.length) return hat;
  const pupil_id = may[below(may.length, random)];
  return {
    ...now,
    clock: at.clock,
    shown: {
      ...at, pupil_id, method: "cycle", round: now.round, eligible: may.length,
      first: now.first.includes(pupil_id),
    },
  };
}

/** A child who is asked in another way: recorded as what it is, no turn of the round. */
export function show(hat, at, method, pupil_id, eligible = 0) {
  if (hat.shown) return hat;
  return { ...hat, clock: at.clock, shown: { ...at, pupil_id, method, round: 0, eligible, first: false } };
}

/** The device that is alone begins the next round; who is away comes first in it. */
function nextRound(hat, day) {
  if (!canBegin(hat, day)) return hat;
  const owed = hat.share.filter((one) => hat.eligible.includes(one));
  const round = hat.round + 1;
  return tell(
    { ...hat, round, share: [...hat.eligible], first: owed, had: 0, marked: [], later: null },
    { what: "round", round },
  );
}

/** Write a piece of news down; it is told until the server says that it has heard it. */
export function tell(hat, news) {
  const number = hat.number + 1;
  return { ...hat, number, news: [...hat.news, { number, ...news }] };
}

/**
 * The outcome of the name that is shown: one tap. Gives the hat that is ready for the next question;
 * `last` holds what was drawn, for the record and for taking it back.
 */
export function settle(hat, outcome) {
  if (!hat.shown) return hat;
  const { shown } = hat;
  const numbered = numberOf(hat.top, shown.day);
  const drawn = { ...shown, outcome, sequence: numbered.sequence };
  let next = { ...hat, shown: null, asked: null, top: numbered.top, later: null };
  if (shown.method === "cycle" && shown.round === hat.round) next = after(next, drawn);
  next = tell(next, { what: "drawn", ...told(drawn), stays: hat.alone });
  return { ...next, last: { ...drawn, number: next.number } };
}

function after(hat, { pupil_id, outcome, day }) {
  if (TURNS.has(outcome)) {
    return {
      ...without(hat, pupil_id), had: hat.had + 1,
      first: hat.first.filter((one) => one !== pupil_id),
    };
  }
  if (outcome !== "absent") return { ...hat, later: pupil_id };
  const first = [...new Set([...hat.first, pupil_id])];
  const marked = [...new Set([...hat.marked, pupil_id])];
  const away = { ...hat.away, [pupil_id]: day };
  // A name that nobody else can ask for stays here; otherwise it goes back into the hat.
  return { ...(hat.alone ? { ...hat, first } : without(hat, pupil_id)), away, marked };
}

function told({ pupil_id, draw_id, method, outcome, round, day, sequence, clock, first }) {
  return { pupil_id, draw_id, method, outcome, round, day, sequence, clock, first };
}

function without(hat, pupil_id) {
  return { ...hat, share: hat.share.filter((one) => one !== pupil_id) };
}

/** The next number within the day: one that was taken back, or one more than the highest known. */
function numberOf(top, day) {
  const now = top.day === day ? top : { day, number: 0, free: [] };
  if (now.free.length) {
    const [sequence, ...free] = now.free;
    return { sequence, top: { ...now, free } };
  }
  return { sequence: now.number + 1, top: { ...now, number: now.number + 1 } };
}

/**
 * Take the last draw back. The same name then stands there again, for another outcome or to be put
 * back. A name that went back into the hat meanwhile does not: another device may hold it by now.
 * @param {object} hat
 * @param {{day: string, draw_id: string, clock: number}} at for the draw that takes its place
 */
export function undo(hat, at) {
  const { last } = hat;
  if (!last || hat.shown) return hat;
  let next = { ...hat, last: null, later: null, top: freed(hat.top, last) };
  const isCycle = last.method === "cycle";
  if (isCycle && last.round === hat.round) next = restored(next, last);
  next = tell(next, { what: "undone", ...told(last) });
  if (isCycle && (last.round !== hat.round || !next.share.includes(last.pupil_id))) return next;
  const { pupil_id, method, round, eligible, first, waited = "" } = last;
  const shown = { ...at, pupil_id, method, round, eligible, first, waited, again: true };
  return { ...next, clock: at.clock, shown };
}

/** Put a name that was drawn before and taken back into the hat again. */
export function putBack(hat) {
  return hat.shown?.again ? { ...hat, shown: null, asked: null } : hat;
}

function restored(hat, { pupil_id, outcome, number, first }) {
  const away = { ...hat.away };
  delete away[pupil_id];
  const isTurn = TURNS.has(outcome);
  const isHere = hat.share.includes(pupil_id);
  // A name that was given back since is nobody's here, also while that waits to be told.
  const isBack = hat.news.some((one) => one.what === "back" && one.pupil_id === pupil_id && one.number > number);
  const isUntold = number > hat.sent && !isBack;
  const share = isHere || (!isTurn && !isUntold) ? hat.share : [...hat.share, pupil_id];
  const others = hat.first.filter((one) => one !== pupil_id);
  return {
    ...hat, away, share, first: first ? [...others, pupil_id] : others,
    marked: hat.marked.filter((one) => one !== pupil_id),
    had: isTurn ? hat.had - 1 : hat.had,
  };
}

function freed(top, { day, sequence }) {
  if (top.day !== day) return top;
  if (top.number === sequence) return { ...top, number: sequence - 1 };
  return { ...top, free: [...top.free, sequence].sort((one, other) => one - other) };
}

/**
 * Children who are away and whose names have not come up in the round that ends: each gets a row
 * that says so, as a card that comes up last would, before the next round begins.
 */
export function unmarked(hat, day) {
  return Object.keys(hat.away).filter(
    (one) => hat.away[one] === day && hat.eligible.includes(one) && !hat.marked.includes(one),
  );
}

/** The name of a child who is known to be away comes up. */
export function absent(hat, at, pupil_id) {
  const up = { ...at, pupil_id, method: "cycle", round: hat.round, eligible: 0, first: true };
  const { last, later } = hat;
  const told = settle({ ...hat, shown: up, clock: at.clock }, "absent");
  return { hat: { ...told, last, later, asked: hat.asked }, drawn: told.last };
}

/** A child who was away has come: the name may be drawn again, before the others. */
export function here(hat, pupil_id) {
  const away = { ...hat.away };
  delete away[pupil_id];
  return tell({ ...hat, away }, { what: "here", round: hat.round, pupil_id });
}
