/** Practice at home as plain values: which week, what stands of it, and the record it becomes. */

export const FEED = "family_practice";
/** The most families that the school's files take. */
export const MOST = 60;

/** The Monday of a day, both as "2026-05-15". */
export function mondayOf(day) {
  const at = new Date(`${day}T12:00:00Z`);
  at.setUTCDate(at.getUTCDate() - ((at.getUTCDay() + 6) % 7));
  return at.toISOString().slice(0, 10);
}

/** The weeks that may be chosen: `[Monday, words]`, the present one first, as far as keys are known. */
export function weeks(families, day) {
  const monday = mondayOf(day);
  const known = [...new Set((families ?? []).map((one) => one.week_first_on))];
  return known
    .filter((first) => first <= monday)
    .sort()
    .reverse()
    .slice(0, 3)
    .map((first) => [first, weekWords(first, monday)]);
}

/** "This week", "Last week", or the day on which it began. */
export function weekWords(first, monday) {
  const apart = Math.round((Date.parse(monday) - Date.parse(first)) / (7 * 24 * 3600 * 1000));
  return apart === 0 ? "This week" : apart === 1 ? "Last week" : "The week before";
}

/** A day as people write it. */
export function dayWords(day) {
  const at = new Date(`${day}T12:00:00`);
  return at.toLocaleDateString("en-GB", { day: "numeric", month: "short" });
}

/**
 * What stands of each week and routine: the school's own, unless this device knows a later one.
 * @param {object[]} families of the pack
 * @param {object} noted of this device: `{[key]: {revision, cells}}`
 */
export function standing(families, noted) {
  return (families ?? []).map((one) => {
    const own = (noted ?? {})[one.key];
    return own && own.revision > one.revision ? { ...one, ...own } : one;
  });
}

/** Whether numbers stand there, and were not taken back. */
export function isTold(one) {
  return Boolean(one?.revision && one.cells && one.cells.voided !== "true");
}

/** The entry of a week and routine, or undefined. */
export function entryOf(entries, form) {
  return entries.find((one) =>
    one.routine_id === form.routine_id && one.week_first_on === form.week);
}

/** What is still missing or cannot be, in words; empty when it may be kept. */
export function wrong(form) {
  if (!form.routine_id) return "Choose the routine first.";
  if (!form.week) return "Choose the week.";
  if (form.asked === null) return "Say how many families were asked.";
  if (form.practised === null) return "Say how many of them practised. None is a number too: 0.";
  if (!Number.isInteger(form.practised) || form.practised < 0) return "Write a whole number.";
  if (form.practised > form.asked) {
    return `Only ${form.asked} ${form.asked === 1 ? "family was" : "families were"} asked.`;
  }
  return "";
}

/** The record to keep: the next revision of its week and routine. */
export function record(entry, form, isWithdrawn = false) {
  const cells = {
    routine_id: entry.routine_id,
    week_first_on: entry.week_first_on,
    families_asked: String(form.asked),
    families_reported: String(form.practised),
  };
  if (isWithdrawn) cells.voided = "true";
  return { key: entry.key, revision: entry.revision + 1, feed: FEED, cells };
}

/** "8 of 21 families". */
export function numbersWords({ cells }) {
  const asked = Number(cells.families_asked);
  return `${Number(cells.families_reported)} of ${asked} ${asked === 1 ? "family" : "families"}`;
}
