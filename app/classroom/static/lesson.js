/** "Lesson": what was taught, written down in a few taps; today's to change, missing ones to add. */

import { styled } from "./choices.js";
import { drawForm } from "./lesson_form.js";
import { likely } from "./lesson_likely.js";
import * as model from "./lesson_model.js";
import { drawMissing, drawToday, lessonWords } from "./lesson_today.js";

const NOTE = "lessons today";
const FEED = "routine_lessons";
const open = { ends: [] };

/** Draw the screen into a place. */
export async function show(place, kit) {
  await styled("lesson.css");
  draw(place, kit, null, "");
  let isTouched = false;
  const touched = () => { isTouched = true; };
  place.addEventListener("input", touched);
  place.addEventListener("click", touched);
  // News of the school's inbox is shown at once, but never under a finger.
  open.ends = [kit.on("pack", () => isTouched || draw(place, kit, null, ""))];
}

/** The screen goes. */
export function leave() {
  for (const end of open.ends) end();
  open.ends = [];
}

function noted(kit) {
  const found = kit.noted(NOTE);
  return found?.day === kit.now().day ? found.lessons : [];
}

/** Lessons that this device or the school's inbox holds, those taken back included. */
function known(kit) {
  const sent = (kit.pack.sent ?? []).filter((one) => one.feed === FEED);
  return model.standing(sent, noted(kit));
}

function draw(place, kit, changed, said) {
  const { el } = kit;
  const now = kit.now();
  const mine = known(kit);
  const slots = model.openSlots(kit.pack, mine);
  const list = likely(kit.pack, slots, now);
  const form = changed ? model.formOf(changed) : blank(list);
  const again = (words) => draw(place, kit, null, words);
  const ways = {
    change: (one) => { draw(place, kit, one, ""); place.scrollIntoView(); },
    takeBack: async (one) => again(await takeBack(kit, one)),
    add: async (those, status) => again(await add(kit, those, status)),
  };
  place.replaceChildren(
    el("h1", { tabindex: "-1" }, changed ? "Change a lesson" : "Lesson"),
    said ? el("p", { class: "done" }, said) : "",
    drawForm(kit, { form, likely: list, cancel: changed ? () => again("") : null,
      save: async (status) => {
        const outcome = await save(kit, form, slots, mine, status);
        if (outcome.isKept) again(outcome.words);
        return outcome.isKept ? "" : outcome.words;
      } }),
    ...[changed ? null : drawToday(kit, mine, ways), changed ? null : drawMissing(kit, slots, ways)].filter(Boolean),
  );
  if (said) {
    kit.say(said);
    place.querySelector("h1").focus();
  }
}

function blank(list) {
  const first = list[0];
  return {
    key: null, revision: 0, routine_id: first?.routine_id ?? null,
    lesson_kind: first?.lesson_kind ?? "practice_only", mode: "in_person",
    start: null, minutes: null, steps: null, present: null, reason: null, isSubstitute: false,
  };
}

/** Keep what the form says; `{isKept, words}`. */
async function save(kit, form, slots, mine, status) {
  const now = kit.now();
  const { pack } = kit;
  const routine = pack.routines.find((one) => one.routine_id === form.routine_id);
  if (!routine) return { isKept: false, words: "Choose the routine first." };
  if (status !== "cancelled" && form.minutes === null) {
    return { isKept: false, words: "Say how many minutes it took." };
  }
  const start = form.start ?? model.proposedStart(now, form.minutes, pack.session_pattern);
  const wrong = status === "cancelled" ? "" : model.wrongTime(start, form.mode, pack.session_pattern);
  if (wrong) return { isKept: false, words: `${wrong} Change when it began, or leave it empty.` };
  const cells = model.cells({ ...form, start, status }, routine, now);
  const others = mine.filter((one) => one.key !== form.key);
  if (model.isTwin(cells, others)) {
    return { isKept: false, words: "This very lesson is written down already. If it was another one, change when it began." };
  }
  return keep(kit, [{ ...model.keyFor(form, slots, mine, now, kit.fresh), cells }]);
}

async function keep(kit, lessons) {
  let count = 0;
  try {
    for (const one of lessons) {
      await kit.keep({ ...one, feed: FEED });
      kit.note(NOTE, { day: kit.now().day, lessons: [...noted(kit).filter((old) => old.key !== one.key), one] });
      count += 1;
    }
  } catch (problem) {
    if (!(problem instanceof kit.Full)) throw problem;
    return { isKept: count > 0, words: `${problem.message} ${count} of ${lessons.length} were saved.` };
  }
  const words = lessons.length === 1 ? `Saved: ${lessonWords(kit.pack, lessons[0].cells)}.` : `${lessons.length} lessons saved. Thank you.`;
  return { isKept: true, words };
}

async function takeBack(kit, one) {
  const cells = { ...one.cells, voided: "true" };
  const { isKept, words } = await keep(kit, [{ key: one.key, revision: one.revision + 1, cells }]);
  return isKept ? `Taken back: ${lessonWords(kit.pack, one.cells)}. It will not count.` : words;
}

async function add(kit, slots, status) {
  const now = kit.now();
  const mine = known(kit);
  const lessons = slots.map((slot) => ({ ...model.slotKey(slot, mine), cells: model.cellsOfSlot(slot, status, now) }));
  return (await keep(kit, lessons)).words;
}
