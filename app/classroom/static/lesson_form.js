/** The form of a lesson: what is likely is set and says why; what counts is tapped. */

import { choice, stepper, toggle } from "./choices.js";
import * as model from "./lesson_model.js";

const MINUTES = [3, 5, 8, 10, 12, 15, 20];
const FIRST_SHOWN = 3;

/**
 * Draw the form.
 * @param {object} kit
 * @param {{form: object, likely: Array, save: Function, cancel: Function|null}} told `save(status)`
 *   gives words when something is lacking or could not be kept
 */
export function drawForm(kit, { form, likely, save, cancel }) {
  const { el } = kit;
  const place = el("div", {});
  const trouble = el("p", { class: "trouble", role: "alert", hidden: true });
  const draw = () => place.replaceChildren(...fields(kit, form, likely, draw));
  draw();
  const tap = (status) => async () => {
    const words = await save(status);
    trouble.textContent = words;
    trouble.hidden = !words;
  };
  const isChange = Boolean(form.key);
  return el("section", { "aria-label": isChange ? "Change a lesson" : "A lesson" }, place, trouble,
    el("div", { class: "saves" },
      el("button", { type: "button", class: "wide", onclick: tap("delivered") },
        isChange ? "Keep the change: it was given" : "It was given: save"),
      el("button", { type: "button", class: "quiet", onclick: tap("partly") }, "Only in part"),
      el("button", { type: "button", class: "quiet", onclick: tap("cancelled") }, "Called off"),
      cancel ? el("button", { type: "button", class: "quiet", onclick: cancel }, "Leave it as it was") : null));
}

function fields(kit, form, likely, draw) {
  const routine = kit.pack.routines.find((one) => one.routine_id === form.routine_id);
  const steps = routine?.steps?.length ?? 0;
  const keep = (name) => (value) => { form[name] = value; };
  const size = kit.pack.class?.size ?? 0;
  return [
    routineField(kit, form, likely, draw),
    minutesField(kit, form, likely),
    steps ? choice(kit, { legend: "Steps done", value: form.steps, onpick: keep("steps"),
      options: [...numbers(steps), [null, "not counted"]] }) : null,
    stepper(kit, { legend: "Children who were there", note: size ? `The class has ${size}.` : "",
      value: form.present, from: size || 20, least: 0, most: size ? size + 2 : 60,
      none: "not counted", onpick: keep("present") }),
    details(kit, form, draw),
  ].filter(Boolean);
}

const numbers = (most) => Array.from({ length: most + 1 }, (_, place) => [place, `${place}`]);

function routineField(kit, form, likely, draw) {
  const { el } = kit;
  const place = likely.findIndex((one) => one.routine_id === form.routine_id);
  const shown = form.isAll || place >= FIRST_SHOWN ? likely : likely.slice(0, FIRST_SHOWN);
  const pick = (id) => {
    const one = likely.find((other) => other.routine_id === id);
    Object.assign(form, { routine_id: id, lesson_kind: one.lesson_kind, steps: null });
    draw();
  };
  const field = choice(kit, { legend: "Which routine?", value: form.routine_id, onpick: pick,
    note: form.key ? "" : "The first is set because it is likely now; tap another if it was not.",
    options: shown.map((one) => [one.routine_id, one.name, kindAndWhy(one)]) });
  if (shown.length < likely.length) {
    field.append(el("button", { type: "button", class: "plain-link", onclick: () => {
      form.isAll = true;
      draw();
    } }, "Show all routines"));
  }
  return field;
}

function kindAndWhy({ lesson_kind, isPlanned, why }) {
  const kind = isPlanned ? model.KINDS.find(([code]) => code === lesson_kind)?.[1].toLowerCase() : "";
  return [kind, why].filter(Boolean).join(" · ");
}

function minutesField(kit, form, likely) {
  const planned = likely.find((one) => one.routine_id === form.routine_id)?.planned_minutes;
  const every = [...new Set([...MINUTES, planned, form.minutes])].filter((one) => one !== null && one !== undefined);
  const options = every.sort((one, other) => one - other)
    .map((one) => [one, `${one}`, one === planned ? "planned" : ""]);
  return choice(kit, { legend: "Minutes", value: form.minutes, options,
    onpick: (value) => { form.minutes = value; } });
}

function details(kit, form, draw) {
  const { el, pack } = kit;
  const keep = (name) => (value) => { form[name] = value; form.isOpen = true; draw(); };
  const proposed = form.start ?? model.proposedStart(kit.now(), form.minutes, pack.session_pattern);
  return el("details", { class: "preset", open: form.isOpen }, el("summary", {}, setWords(kit, form)),
    choice(kit, { legend: "Kind of lesson", value: form.lesson_kind, onpick: keep("lesson_kind"), options: model.KINDS }),
    choice(kit, { legend: "Way it was taught", value: form.mode, onpick: keep("mode"), options: model.MODES }),
    el("p", { class: "field" }, el("label", { for: "lesson-start" }, "Began at (may stay empty)"),
      el("input", { id: "lesson-start", type: "time", value: proposed,
        onchange: (event) => { form.start = event.target.value; } })),
    toggle(kit, { word: "A substitute taught it", value: form.isSubstitute ?? false, onpick: keep("isSubstitute") }),
    choice(kit, { legend: "If it was cut short or called off, why?", value: form.reason ?? null,
      onpick: keep("reason"), options: model.REASONS }));
}

/** In one line what is set without a tap: kind, way and start stand on the screen before saving. */
function setWords(kit, form) {
  const word = (list, code) => list.find(([own]) => own === code)?.[1] ?? "";
  const start = form.start ?? model.proposedStart(kit.now(), form.minutes, kit.pack.session_pattern);
  const parts = [word(model.KINDS, form.lesson_kind), word(model.MODES, form.mode).toLowerCase(),
    start ? `began about ${start.slice(0, 5)}` : "start not said"];
  if (form.isSubstitute) parts.push("by a substitute");
  return `${parts.join(", ")}. Change`;
}
