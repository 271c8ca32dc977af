/** A lesson as cells of its feed, and what of today stands: plain values, no screen. */

import { minuteOf, slotFor } from "./lesson_likely.js";

export const KINDS = [
  ["full", "First teaching"], ["practice_only", "Practice"], ["booster", "Booster"],
  ["reminder", "Reminder"], ["after_break", "Again after a break"], ["data_dip", "Again after a dip"],
  ["newcomer", "For a newcomer"],
];
export const MODES = [
  ["in_person", "In the room"], ["live_online", "On a live call"], ["recorded", "Recorded"],
  ["at_home", "At home"],
];
export const REASONS = [
  [null, "Not said"], ["no_time", "No time"], ["staff_absent", "Staff away"],
  ["assembly", "Assembly"], ["trip", "Trip"], ["testing", "Tests"], ["drill", "Drill"],
  ["school_closed", "School closed"], ["other", "Something else"],
];
const NOON = minuteOf("12:30");
const MORNING_ENDS = minuteOf("11:00");

/** The start that is proposed: now less the minutes it took, where a lesson can have been then. */
export function proposedStart(now, minutes, pattern) {
  const start = minuteOf(now.time) - Math.round(minutes ?? 0);
  if (start < minuteOf("07:00") || start > minuteOf("18:00")) return "";
  const text = `${String(Math.floor(start / 60)).padStart(2, "0")}:${String(start % 60).padStart(2, "0")}`;
  return wrongTime(text, "in_person", pattern) ? "" : text;
}

/** Words when a class that meets half the day cannot have had a lesson at a time; empty otherwise. */
export function wrongTime(start, mode, pattern) {
  if (!start || mode !== "in_person") return "";
  if (pattern === "am" && minuteOf(start) >= NOON) return "This class meets in the mornings only.";
  if (pattern === "pm" && minuteOf(start) < MORNING_ENDS) return "This class meets in the afternoons only.";
  return "";
}

/** What stands of today: of each key its newest revision; those taken back are left out. */
export function standing(...lists) {
  const found = new Map();
  for (const one of lists.flat()) {
    if ((found.get(one.key)?.revision ?? 0) <= one.revision) found.set(one.key, one);
  }
  return [...found.values()];
}

export const isWithdrawn = (one) => one.cells.voided === "true";

/** The open lessons of the plan, without those that were written down on this device meanwhile. */
export function openSlots(pack, known) {
  const done = new Set(known.filter((one) => !isWithdrawn(one)).map((one) => one.key));
  return (pack.unlogged ?? []).filter((slot) => !done.has(slot.key));
}

/**
 * Under which key a lesson is kept. One that was planned has the key of its place in the plan, as
 * on the dashboard, so that it is one lesson wherever it is written down.
 */
export function keyFor(form, open, known, now, fresh) {
  if (form.key) return { key: form.key, revision: form.revision + 1 };
  const slot = slotFor(open, form.routine_id, form.lesson_kind, now.day);
  return slot ? slotKey(slot, known) : { key: fresh(), revision: 1 };
}

/** The key and next revision of a place in the plan, also when it was taken back before. */
export function slotKey(slot, known) {
  const before = known.find((one) => one.key === slot.key)?.revision ?? 0;
  return { key: slot.key, revision: Math.max(slot.revision ?? 1, before + 1) };
}

const text = (value) => (value === null || value === undefined ? "" : `${value}`);

function rest(before = {}) {
  const { voided, ...kept } = before;
  return kept;
}

/** The cells of a lesson as the form says it. One that was called off has no minutes. */
export function cells(form, routine, now) {
  const isOff = form.status === "cancelled";
  return {
    // What another form wrote beside these cells stays.
    ...rest(form.before),
    routine_id: form.routine_id,
    setting: form.mode === "in_person" ? text(routine?.setting) : "",
    taught_on: form.day ?? now.day,
    started_at_local: isOff ? "" : text(form.start),
    minutes: isOff ? "" : text(form.minutes),
    lesson_kind: form.lesson_kind,
    mode: form.mode,
    is_substitute: form.isSubstitute ? "true" : "",
    pupils_present: isOff ? "" : text(form.present),
    steps_done: isOff ? "" : text(form.steps),
    status: form.status,
    cancel_reason: form.status === "delivered" ? "" : text(form.reason),
    entered_at: now.moment,
    note: text(form.note),
  };
}

/** A planned lesson written down afterwards: what was not asked stays empty. */
export function cellsOfSlot(slot, status, now) {
  return {
    routine_id: slot.routine_id, taught_on: slot.due_on, lesson_kind: slot.lesson_kind,
    mode: "in_person", status, entered_at: now.moment,
    // Two of one kind on one day are two lessons, not one that was sent twice.
    note: slot.number > 1 ? `Number ${slot.number} of this kind on the day` : "",
  };
}

/** What the form shows of a lesson that is changed. */
export function formOf({ key, revision, cells: own }) {
  const number = (value) => (value === "" || value === undefined ? null : Number(value));
  return {
    key, revision, before: own, day: own.taught_on, routine_id: own.routine_id, lesson_kind: own.lesson_kind,
    mode: own.mode, status: own.status, start: own.started_at_local ?? "", note: own.note ?? "",
    minutes: number(own.minutes), steps: number(own.steps_done), present: number(own.pupils_present),
    reason: own.cancel_reason || null, isSubstitute: own.is_substitute === "true",
  };
}

/** Whether a lesson says the very same as one that stands. */
export function isTwin(own, known) {
  const names = Object.keys(own).filter((name) => name !== "entered_at");
  return known.some((one) => !isWithdrawn(one)
    && names.every((name) => (one.cells[name] ?? "") === own[name]));
}

/** The Monday of a day, as a day. */
export function mondayOf(day) {
  const at = new Date(`${day}T12:00:00Z`);
  at.setUTCDate(at.getUTCDate() - ((at.getUTCDay() + 6) % 7));
  return at.toISOString().slice(0, 10);
}
