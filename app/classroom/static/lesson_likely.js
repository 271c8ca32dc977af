/**
 * Which lesson is likely now, and why: from today's plan, from what is usual at this time of day,
 * and from what the dashboard would teach next. Plain values, no screen; nothing is decided here.
 */

const NEAR_MINUTES = 30;
const OFTEN = 0.25;
const REASONS = {
  after_break: "school has just begun again",
  data_dip: "looks showed a dip",
  not_yet_taught: "not taught yet this term",
  newcomer: "a newcomer has not had it",
  long_ago: "some time since it was last taught",
};

/** Minutes since midnight of "09:45". */
export function minuteOf(time) {
  const [hours, minutes] = time.split(":").map(Number);
  return 60 * hours + minutes;
}

/** The usual start of a routine about a time, and its share then; null when it is seldom so. */
export function usualNear(starts, time) {
  const every = starts.reduce((sum, [, count]) => sum + count, 0);
  const near = starts.filter(([start]) => Math.abs(minuteOf(start) - minuteOf(time)) <= NEAR_MINUTES);
  const count = near.reduce((sum, [, one]) => sum + one, 0);
  if (!every || count / every < OFTEN) return null;
  const [start] = near.reduce((best, one) => (one[1] > best[1] ? one : best));
  return { start, share: count / every };
}

/** The open lesson of the plan that one given today fills: the one that fell due first. */
export function slotFor(open, routine_id, lesson_kind, today) {
  return open
    .filter((slot) => slot.routine_id === routine_id && slot.last_on >= today
      && (!lesson_kind || slot.lesson_kind === lesson_kind))
    .sort((one, other) => (one.due_on + one.key < other.due_on + other.key ? -1 : 1))[0] ?? null;
}

/**
 * Every routine, the likeliest first, each with its kind of lesson, its minutes and the reasons.
 * @param {object} pack with `routines`, `usual`, `teach_next`
 * @param {Array} open the open lessons of the plan
 * @param {{day: string, time: string}} now
 */
export function likely(pack, open, now) {
  const next = new Map((pack.teach_next ?? []).map((one, place) => [one.routine_id, { ...one, place }]));
  const found = pack.routines.map((routine) => {
    const slot = slotFor(open, routine.routine_id, null, now.day);
    const usual = usualNear(pack.usual?.[routine.routine_id] ?? [], now.time);
    const after = next.get(routine.routine_id);
    return {
      routine_id: routine.routine_id,
      name: routine.name,
      lesson_kind: slot?.lesson_kind ?? "practice_only",
      isPlanned: slot !== null,
      planned_minutes: slot?.planned_minutes ?? null,
      score: weight(slot, usual, after, now.day),
      why: why(slot, usual, after, now.day),
    };
  });
  return found.sort((one, other) => other.score - one.score);
}

function weight(slot, usual, after, day) {
  const plan = !slot ? 0 : slot.due_on === day ? 6 : slot.due_on < day ? 4 : 2;
  const reason = after && after.reason !== "none" ? 1 : 0;
  return plan + (usual ? 2 + usual.share : 0) + reason - (after?.place ?? 99) / 100;
}

function why(slot, usual, after, day) {
  const parts = [];
  if (slot?.due_on === day) parts.push("planned for today");
  else if (slot && slot.due_on < day) parts.push("planned, not written down yet");
  else if (slot) parts.push("planned for these days");
  if (usual) parts.push(`often about ${usual.start}`);
  if (REASONS[after?.reason]) parts.push(REASONS[after.reason]);
  return parts.join("; ");
}
