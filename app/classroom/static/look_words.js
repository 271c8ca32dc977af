/** The words of the look round: one place for what a code is called. */

export const LOOKS = [
  ["expected", "Yes"],
  ["accommodated", "Yes, their agreed way"],
  ["not_expected", "Not at this moment"],
  ["not_visible", "Can’t see"],
  ["out_of_room", "Out of room"],
];
export const EVENTS = [
  ["opportunity_individual", "Chance to answer", "one child"],
  ["opportunity_group", "Chance to answer", "several"],
  ["praise_specific", "Praise", "says for what"],
  ["praise_general", "Praise", "in general"],
  ["correction_calm", "Correction", "calm"],
  ["correction_harsh", "Correction", "tense"],
];
export const STEPS = [
  ["done", "Done"],
  ["not_done", "Not done"],
  ["not_seen", "Not seen"],
  ["not_applicable", "Not needed"],
];
export const VOICES = ["silent", "whisper", "talking", "to the class", "outdoors"];
export const TEACHERS = [
  ["teacher", "The class’s teacher"],
  ["co_teacher", "A co-teacher"],
  ["substitute", "A substitute"],
];
export const PURPOSES = [
  ["routine", "An ordinary look"],
  ["coaching", "For coaching"],
  ["agreement", "Two look together"],
  ["training", "Practice (kept out of every figure)"],
];
export const ACTIVITIES = {
  whole_class: "Whole class",
  partner_talk: "Partner talk",
  small_groups: "Small groups",
  own_work: "Own work",
  transition: "Between two things",
  arrival: "Arrival",
};
export const CAUTIONS = [
  "There is no single listening posture: looking away, moving or holding something may be how a child listens best.",
  "An agreed way counts as met. Never ask for eye contact.",
  "Seats only: no names, no notes about a child. This describes a moment of a class, not a child or a teacher.",
];

/** A code as people say it; words that the school made up itself stay as they are. */
export function spoken(code, list = {}) {
  return list[code] ?? code.replaceAll("_", " ").replace(/^./, (first) => first.toUpperCase());
}

/** The word of a code in a list of pairs. */
export function wordOf(list, code) {
  return list.find(([known]) => known === code)?.[1] ?? code;
}

/** Seconds as a clock shows them: 0:47. */
export function clock(seconds) {
  const whole = Math.max(0, Math.floor(seconds));
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, "0")}`;
}

/** What an act was, for the word on the undo button. */
export function actWords(act) {
  if (act.t === "look") return `seat ${act.s}, ${wordOf(LOOKS, act.c)}`;
  if (act.t === "voice") return `voices ${act.v}`;
  if (act.t === "step") return `step ${act.n}, ${wordOf(STEPS, act.c)}`;
  if (act.t === "from") return "signal given";
  if (act.t === "ready") return act.c === "ready" ? "ready" : "not ready";
  const [, what, how] = EVENTS.find(([code]) => code === act.c);
  return `${what}, ${how}`;
}

/** How long the class took until it was ready. */
export function readyWords({ c, v }) {
  return c === "ready" ? `Ready after ${clock(v)}` : `Not ready after ${clock(v)}`;
}
