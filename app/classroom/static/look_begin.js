/** Before a look: which routine, how many seats, how often; with the cautions. */

import { choice, stepper, toggle } from "./choices.js";
import { plainCode, seatByChance, seatOfCode } from "./look_model.js";
import { canTouch } from "./look_signal.js";
import { CAUTIONS } from "./look_words.js";

const WAYS = { beep: 15, each: 1, minutes: 10, sound: true, touch: true, light: true };
const BEEPS = [10, 15, 20, 30, 60, 0];
const TOGETHER = [1, 2, 3, 5];
const LENGTHS = [5, 10, 12, 15, 20, 30];

/** Children at one beep that leave at least five seconds for each, in whole seconds. */
export function togetherFor(beep) {
  return TOGETHER.filter((each) => each === 1 || (beep && beep % each === 0 && beep / each >= 5));
}

/** In one line, how the timer will go. */
export function wayWords({ beep, each, minutes, sound, touch, light }) {
  const many = each === 1 ? "one child" : `${each} children`;
  const looks = beep ? `A beep every ${beep} seconds, ${many} at each` : "No looks at seats";
  const signals = [sound && "heard", touch && canTouch() && "felt", light && "seen"].filter(Boolean);
  const how = beep ? `; ${signals.length ? signals.join(", ") : "no signal but the clock"}` : "";
  return `${looks}; ${minutes} minutes${how}.`;
}

/** Draw the form; `begin(plan)` is called with what was chosen. */
export function drawBegin(place, kit, begin) {
  const { el, pack } = kit;
  const isTeam = pack.role === "support";
  const form = {
    ...WAYS, ...(kit.noted("look ways") ?? {}), routine_id: null, code: "",
    class_id: pack.class?.class_id ?? null, seats: pack.class?.size || (isTeam ? null : 20),
  };
  const parts = el("div", {});
  const trouble = el("p", { class: "trouble", role: "alert", hidden: true });
  const draw = () => parts.replaceChildren(...fields(kit, form, isTeam, draw));
  draw();
  const start = el("button", { type: "button", class: "wide", onclick: () => {
    const lack = lacking(form);
    trouble.hidden = !lack;
    trouble.textContent = lack;
    if (!lack) begin(planOf(form, pack));
  } }, "Begin the look");
  place.append(
    el("h1", {}, "Look round"),
    el("ul", { class: "cautions" }, CAUTIONS.map((words) => el("li", {}, words))),
    parts, trouble, start,
  );
}

function lacking(form) {
  if (!form.class_id) return "Choose the class first.";
  if (!form.routine_id) return "Choose the routine that you look at.";
  if (form.beep && !form.seats) return "Say how many seats you go round.";
  if (form.code && !plainCode(form.code)) return "The code for two needs at least two letters or digits.";
  return "";
}

function planOf(form, pack) {
  const routine = pack.routines.find((one) => one.routine_id === form.routine_id);
  const pair = plainCode(form.code);
  const seats = form.seats || 1;
  return {
    ...(pack.role === "support" ? { class_id: form.class_id } : {}),
    where: form.class_id,
    title: titleOf(pack, form.class_id),
    routine_id: routine.routine_id,
    version: routine.version,
    expected_voice_level: routine.expected_voice_level,
    setting: routine.setting,
    steps: routine.steps ?? [],
    beep: form.beep, each: form.each, minutes: form.minutes, seats, pair,
    first: pair ? seatOfCode(pair, seats) : seatByChance(seats),
    sound: form.sound, touch: form.touch, light: form.light,
  };
}

function titleOf(pack, class_id) {
  const found = (pack.classes ?? []).find((one) => one.class_id === class_id);
  return found?.title ?? pack.class?.title ?? "";
}

function fields(kit, form, isTeam, draw) {
  const { el, pack } = kit;
  const keep = (name) => (value) => { form[name] = value; };
  return [
    isTeam ? classField(kit, form, draw) : null,
    choice(kit, {
      legend: "What do you look at?", value: form.routine_id, onpick: keep("routine_id"),
      options: pack.routines.map((one) => [one.routine_id, one.name]),
    }),
    form.beep ? stepper(kit, {
      legend: "Seats you go round", note: "Count along the rows, as the children sit. Numbers only.",
      value: form.seats, from: 20, least: 1, most: 60, none: "", onpick: keep("seats"),
    }) : null,
    details(kit, form, draw),
    pairField(kit, form),
  ].filter(Boolean);
}

function classField(kit, form, draw) {
  const { el, pack } = kit;
  const pick = (event) => {
    form.class_id = event.target.value || null;
    form.seats = pack.sizes?.[form.class_id] ?? form.seats;
    draw();
  };
  return el("p", { class: "field" }, el("label", { for: "look-class" }, "Which class?"),
    el("select", { id: "look-class", onchange: pick }, el("option", { value: "" }, "Choose a class"),
      (pack.classes ?? []).map((one) => el("option",
        { value: one.class_id, selected: one.class_id === form.class_id }, one.title))));
}

function details(kit, form, draw) {
  const { el } = kit;
  const line = el("span", {}, wayWords(form));
  const keep = (name, isDrawn) => (value) => {
    form[name] = value;
    if (name === "beep") form.each = togetherFor(value).includes(form.each) ? form.each : 1;
    const { beep, each, minutes, sound, touch, light } = form;
    kit.note("look ways", { beep, each, minutes, sound, touch, light });
    line.textContent = wayWords(form);
    if (isDrawn) { form.isOpen = true; draw(); }
  };
  const together = togetherFor(form.beep);
  return el("details", { class: "preset", open: form.isOpen }, el("summary", {}, line),
    choice(kit, { legend: "Seconds from beep to beep", value: form.beep, onpick: keep("beep", true),
      options: BEEPS.map((one) => [one, one ? `${one}` : "no looks at seats"]) }),
    together.length > 1 ? choice(kit, { legend: "Children at each beep", value: form.each,
      onpick: keep("each"), options: together.map((one) => [one, `${one}`]) }) : null,
    choice(kit, { legend: "Minutes", note: "You may end sooner or go on.", value: form.minutes,
      onpick: keep("minutes"), options: LENGTHS.map((one) => [one, `${one}`]) }),
    el("div", { class: "keys" },
      toggle(kit, { word: "Sound", value: form.sound, onpick: keep("sound") }),
      canTouch() ? toggle(kit, { word: "Vibration", value: form.touch, onpick: keep("touch") }) : null,
      toggle(kit, { word: "Light", value: form.light, onpick: keep("light") })));
}

function pairField(kit, form) {
  const { el } = kit;
  return el("p", { class: "field" },
    el("label", { for: "look-code" }, "Two of you look together? Both type the same short code"),
    el("input", { id: "look-code", autocomplete: "off", autocapitalize: "off", spellcheck: "false",
      maxlength: "12", value: form.code, "aria-describedby": "look-code-note",
      oninput: (event) => { form.code = event.target.value; } }),
    el("span", { class: "note", id: "look-code-note" },
      "A new one each time, with the same beep and seats; then begin in the same moment. Leave it empty when you look alone."));
}
