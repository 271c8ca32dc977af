/**
 * A look round the class as plain values: what was tapped, which seat is due, the rows it becomes.
 *
 * Nothing here knows a screen, a clock or a child's name. Time is seconds of watching, counted from
 * time stamps; a look's second is that of its beep, so that two people who began together can be
 * compared seat by seat. The seat of a beep depends on the beep alone: one that was missed leaves a
 * gap and moves nothing.
 */

/** How long after the next beep the one before may still be answered, in seconds. */
export const GRACE = 1;
export const LONGEST_SECONDS = 3600;
/** A visit is written down in whole minutes, at least three of them; two and a half round to that. */
export const SHORTEST_SECONDS = 150;
const LONGEST_READY = 600;
const AWAY = 60000;

/**
 * A look that has not begun. `plan`: `{routine_id, version, expected_voice_level, beep, each,
 * seats, first, minutes, pair}`; `beep` is 0 for one without looks at seats.
 */
export function begun(key, plan, { day, time, at }) {
  return { key, plan, day, time, spans: [[at, null]], seen: at, acts: [], again: null };
}

/** Seconds of watching up to a moment (milliseconds since 1970), pauses left out. */
export function seconds(look, at) {
  const total = look.spans.reduce((sum, [from, to]) => sum + Math.max(0, (to ?? at) - from), 0);
  return Math.min(LONGEST_SECONDS, total / 1000);
}

/** Whether it is under way. */
export function isRunning(look) {
  return look.spans.at(-1)[1] === null;
}

/** Stop the clock at a moment. */
export function paused(look, at) {
  if (!isRunning(look)) return look;
  const [from] = look.spans.at(-1);
  return { ...look, spans: [...look.spans.slice(0, -1), [from, Math.max(from, at)]] };
}

/** Let the clock go on. */
export function resumed(look, at) {
  if (isRunning(look)) return look;
  return { ...look, spans: [...look.spans, [at, null]], seen: at };
}

/** Whether the page was away for so long that somebody has to say what to do with that time. */
export function wasAway(look, at) {
  return isRunning(look) && at - look.seen > AWAY;
}

/** How many looks at seats the watching so far made due. */
export function dueCount(look, now) {
  const { beep, each } = look.plan;
  return beep ? Math.floor(now / beep) * each : 0;
}

/** The place in the round of a look: its seat and its second. */
export function slot(plan, index) {
  const { beep, each, seats, first } = plan;
  return {
    index,
    seat: ((first - 1 + index) % seats) + 1,
    at: (Math.floor(index / each) + 1) * beep,
    round: Math.floor(index / seats) + 1,
  };
}

/**
 * The seat to look at now. `isOpen` says whether it may be answered: from its beep until a moment
 * after the next one. Null where no seats are looked at.
 */
export function due(look, now) {
  const { beep, each } = look.plan;
  if (!beep) return null;
  if (look.again && now < look.again.until) {
    return { ...slot(look.plan, look.again.index), isOpen: true, isAgain: true };
  }
  const answered = new Set(looks(look).map((act) => act.i));
  const made = Math.floor(now / beep);
  const isGrace = made > 1 && now - made * beep < GRACE;
  const from = Math.max(0, (made - (isGrace ? 2 : 1)) * each);
  for (let index = from; index < made * each; index += 1) {
    if (!answered.has(index)) return { ...slot(look.plan, index), isOpen: true, isAgain: false };
  }
  return { ...slot(look.plan, made * each), isOpen: false, isAgain: false };
}

function looks(look) {
  return look.acts.filter((act) => act.t === "look");
}

/** The second of the last beep: what else was seen is written down beside the look of that beep. */
function beside(look, now) {
  const step = look.plan.beep || 30;
  return Math.floor(now / step) * step;
}

const add = (look, act) => ({ ...look, acts: [...look.acts, act] });

/** What the child at the due seat was doing; unchanged when no seat may be answered now. */
export function looked(look, code, now) {
  const place = due(look, now);
  if (!place?.isOpen) return look;
  const act = { t: "look", i: place.index, s: place.seat, c: code, a: place.at };
  return { ...add(look, act), again: null };
}

/** The voice level heard now; said again within one beep, the later one counts. */
export function heard(look, level, now) {
  return add(look, { t: "voice", v: level, a: beside(look, now) });
}

/** Something the teacher did: a chance to answer, praise, a correction. */
export function counted(look, code, now) {
  return add(look, { t: "event", c: code, a: Math.floor(now) });
}

/** A step of the routine: done, not_done, not_applicable or not_seen. */
export function stepped(look, number, code) {
  return add(look, { t: "step", n: number, c: code });
}

/** The signal was given: from now the class gets ready. */
export function signalled(look, now) {
  return add(look, { t: "from", a: Math.floor(now) });
}

/** The class is ready, or (`censored`) nobody waited any longer. */
export function settled(look, code, now) {
  const from = waitingSince(look);
  if (from === null) return look;
  const took = Math.max(0, Math.round(now - from));
  const isOver = took > LONGEST_READY;
  return add(look, {
    t: "ready", c: isOver ? "censored" : code, v: Math.min(took, LONGEST_READY), a: from,
  });
}

/** The second of the signal while the class gets ready; null otherwise. */
export function waitingSince(look) {
  const last = look.acts.filter((act) => act.t === "from" || act.t === "ready").at(-1);
  return last?.t === "from" ? last.a : null;
}

/** Take the last tap back, whatever it was; its seat may be answered again until the next beep. */
export function undone(look, now) {
  const last = look.acts.at(-1);
  if (!last) return look;
  const again = last.t === "look" ? { index: last.i, until: now + look.plan.beep } : look.again;
  return { ...look, acts: look.acts.slice(0, -1), again };
}

/** How often each thing was noted, by code; steps and the last voice level by what they say. */
export function tally(look) {
  const events = {};
  const steps = {};
  let voice = null;
  for (const act of look.acts) {
    if (act.t === "event" || act.t === "look") events[act.c] = (events[act.c] ?? 0) + 1;
    if (act.t === "step") steps[act.n] = act.c;
    if (act.t === "voice") voice = act.v;
  }
  const ready = look.acts.filter((act) => act.t === "ready").at(-1) ?? null;
  return { events, steps, voice, ready, looks: looks(look).length };
}

/** How many looks were due by now and not made: shown, never filled in. */
export function missed(look, now) {
  const open = due(look, now);
  const waiting = open?.isOpen && !open.isAgain ? dueCount(look, now) - open.index : 0;
  return Math.max(0, dueCount(look, now) - looks(look).length - waiting);
}

/** The fewest whole minutes that hold everything that was noted, with half a minute rounded away. */
export function fewestMinutes(look) {
  const last = Math.max(0, ...look.acts.map((act) => act.a ?? 0));
  return Math.max(3, Math.ceil((last - 30) / 60));
}

/** Whole minutes watched, as proposed at the end. */
export function minutes(look, now) {
  return Math.min(60, Math.max(fewestMinutes(look), Math.round(now / 60)));
}

/** The rows of the feed, one a thing seen. Seats only; every cell is text. */
export function rows(look) {
  const voices = new Map();
  const steps = new Map();
  const made = [];
  for (const act of look.acts) {
    if (act.t === "look") {
      made.push({ row_type: "moment", code: act.c, target_slot: `${act.s}`, at_seconds: `${act.a}` });
    }
    if (act.t === "event") made.push({ row_type: "event", code: act.c, at_seconds: `${act.a}` });
    if (act.t === "ready") {
      made.push({ row_type: "latency", code: act.c, value: `${act.v}`, at_seconds: `${act.a}` });
    }
    if (act.t === "voice") voices.set(act.a, act.v);
    if (act.t === "step") steps.set(act.n, act.c);
  }
  for (const [at, level] of voices) {
    made.push({ row_type: "voice", code: "observed", value: `${level}`, at_seconds: `${at}` });
  }
  for (const [number, code] of [...steps].sort(([one], [other]) => one - other)) {
    made.push({ row_type: "step", code, step_number: `${number}` });
  }
  return made.map((row, place) => ({ row_number: `${place + 1}`, ...row }));
}

/** The visit itself as cells of its feed; `told` is what was asked at the end. */
export function cells(look, told) {
  const { plan } = look;
  const text = (value) => (value === null || value === undefined ? "" : `${value}`);
  return {
    ...(plan.class_id ? { class_id: plan.class_id } : {}),
    observation_id: look.key,
    pair_id: pairKey(look),
    observed_on: look.day,
    started_at_local: look.time,
    minutes_observed: text(told.minutes),
    minutes_instruction: text(told.teaching),
    setting: text(told.setting),
    activity: text(told.activity),
    routine_id: plan.routine_id,
    expected_voice_level: text(plan.expected_voice_level),
    interval_seconds: plan.beep ? `${plan.beep / plan.each}` : "",
    pupils_present: text(told.present),
    taught_by_role: text(told.teacher),
    purpose: text(told.purpose),
    routine_version: text(plan.version),
  };
}

/** The key that two looks share: their code, with the day, the class and the routine in it. */
export function pairKey(look) {
  const { pair, where, routine_id } = look.plan;
  return pair ? `pair-${look.day}-${where}-${routine_id}-${pair}` : "";
}

/** A code as two people type it: capitals, spaces and dashes do not matter. Empty when too short. */
export function plainCode(typed) {
  const code = typed.normalize("NFKC").toLowerCase().replace(/[^a-z0-9]/g, "");
  return code.length >= 2 ? code.slice(0, 8) : "";
}

/** The seat at which two people with one code begin: the same for both, different from code to code. */
export function seatOfCode(code, seats) {
  let sum = 7;
  for (const letter of code) sum = (sum * 31 + letter.codePointAt(0)) % 1000003;
  return (sum % seats) + 1;
}

/** A seat by chance, from the device's own source of randomness, each as likely as any other. */
export function seatByChance(seats) {
  const limit = Math.floor(2 ** 32 / seats) * seats;
  const drawn = new Uint32Array(1);
  do crypto.getRandomValues(drawn); while (drawn[0] >= limit);
  return (drawn[0] % seats) + 1;
}
