/** Below the form: what was written down today, to change or take back, and what is missing. */

import * as model from "./lesson_model.js";

const MOST = 12;

/** A day as people write it, by the device's own language. */
export function dayWords(day) {
  const at = new Date(`${day}T12:00:00`);
  return at.toLocaleDateString("en-GB", { weekday: "short", day: "numeric", month: "short" });
}

/** A lesson in a few words. */
export function lessonWords(pack, cells) {
  const name = pack.routines.find((one) => one.routine_id === cells.routine_id)?.name ?? cells.routine_id;
  const kind = model.KINDS.find(([code]) => code === cells.lesson_kind)?.[1].toLowerCase() ?? "";
  const parts = [`${name}, ${kind}`];
  if (cells.status === "cancelled") parts.push("called off");
  if (cells.status === "partly") parts.push("in part");
  if (cells.minutes) parts.push(`${Number(cells.minutes)} minutes`);
  return parts.join(" · ");
}

/** Draw what stands of today; `ways`: `change(one)`, `takeBack(one)`. */
export function drawToday(kit, known, ways) {
  const { el, pack } = kit;
  const { day } = kit.now();
  const mine = known.filter((one) => !model.isWithdrawn(one));
  const built = (pack.logged ?? []).filter((one) => !known.some((own) => own.key === one.lesson_id));
  if (!mine.length && !built.length) return null;
  const lines = mine.map((one) => line(kit, one, day, ways));
  const older = built.map((one) => el("li", { class: "card" },
    el("p", {}, `${one.started_at_local?.slice(0, 5) ?? "today"} · ${lessonWords(pack, one)}`),
    el("p", { class: "note" }, "In the figures already.")));
  return el("section", {}, el("h2", {}, "Written down"), el("ul", { class: "plain" }, lines, older));
}

function line(kit, one, day, ways) {
  const { el, pack } = kit;
  const { cells } = one;
  const when = cells.taught_on === day ? cells.started_at_local?.slice(0, 5) || "today" : dayWords(cells.taught_on);
  const words = `${when} · ${lessonWords(pack, cells)}`;
  let isSure = false;
  const back = el("button", { type: "button", class: "quiet", "aria-label": `Take back: ${words}`,
    onclick: () => {
      if (isSure) return ways.takeBack(one);
      isSure = true;
      back.textContent = "Really take it back?";
      back.setAttribute("aria-label", `Really take back: ${words}`);
    } }, "Take it back");
  return el("li", { class: "card" }, el("p", {}, words), el("div", { class: "row" },
    el("button", { type: "button", class: "quiet", "aria-label": `Change: ${words}`,
      onclick: () => ways.change(one) }, "Change"), back));
}

/** Draw planned lessons without a log; `ways.add(slots, status)` writes them down. */
export function drawMissing(kit, open, ways) {
  const { el } = kit;
  const { day } = kit.now();
  const due = open.filter((slot) => slot.due_on <= day);
  if (!due.length) return null;
  const monday = model.mondayOf(day);
  const week = due.filter((slot) => slot.due_on >= monday);
  const shown = Math.max(MOST, week.length);
  const all = week.length > 1 ? el("button", { type: "button", class: "wide",
    onclick: () => ways.add(week, "delivered") },
  `All ${week.length} of this week happened: write them down`) : null;
  return el("section", {}, el("h2", {}, "Planned, not written down yet"),
    el("p", { class: "note" }, "Each is written down on the day it was planned for, as given in the room; minutes and steps stay empty."),
    all, el("ul", { class: "plain" }, due.slice(0, shown).map((slot) => slotLine(kit, slot, ways))),
    due.length > shown ? el("p", { class: "note" }, `${due.length - shown} earlier ones come up as you answer these.`) : null);
}

function slotLine(kit, slot, ways) {
  const { el, pack } = kit;
  const words = `${dayWords(slot.due_on)} · ${lessonWords(pack, slot)}`;
  const key = (word, status, kind) => el("button", { type: "button", class: kind,
    "aria-label": `${word}: ${words}`, onclick: () => ways.add([slot], status) }, word);
  return el("li", { class: "card slot" }, el("p", {}, words), el("div", { class: "row" },
    key("It happened", "delivered", "second"), key("Called off", "cancelled", "quiet")));
}
