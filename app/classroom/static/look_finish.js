/** The end of a look: what the timer cannot know, asked once, nothing answered beforehand. */

import { choice, stepper } from "./choices.js";
import * as model from "./look_model.js";
import { ACTIVITIES, EVENTS, LOOKS, PURPOSES, TEACHERS, clock, spoken } from "./look_words.js";

/** What has to be said before a look can be kept; empty when nothing is lacking. */
export function lacking(told) {
  if (!told.teacher) return "Say who was teaching.";
  if (!told.purpose) return "Say what the look was for.";
  if (told.teaching !== null && told.teaching > told.minutes) {
    return "There cannot have been more minutes of teaching than of watching.";
  }
  return "";
}

/** Draw the end; `ways`: `save(told)`, `back()`, `drop()`, `keepTold(told)`. */
export function drawFinish(place, kit, look, ways) {
  const { el } = kit;
  const seconds = model.seconds(look, Date.now());
  const isShort = seconds < model.SHORTEST_SECONDS;
  place.append(el("h1", {}, "Finish the look"), el("p", {}, summary(look, seconds)));
  if (isShort) {
    place.append(el("p", { class: "trouble" },
      "A look is written down in whole minutes, from three on. Watch a little longer, or let this one go."));
  } else if (look.acts.length === 0) {
    place.append(el("p", { class: "trouble" }, "Nothing was noted, so there is nothing to keep yet."));
  } else form(place, kit, look, ways, seconds);
  place.append(el("div", { class: "row ends" },
    el("button", { type: "button", class: "second", onclick: ways.back }, "Back to the look"),
    dropKey(kit, ways)));
}

function summary(look, seconds) {
  const { events, looks } = model.tally(look);
  const parts = LOOKS.filter(([code]) => events[code]).map(([code, word]) => `${word}: ${events[code]}`);
  const many = looks === 1 ? "1 look" : `${looks} looks`;
  const missed = model.missed(look, seconds);
  const gap = missed ? ` ${missed} ${missed === 1 ? "was" : "were"} missed and ${missed === 1 ? "stays" : "stay"} empty.` : "";
  const more = EVENTS.filter(([code]) => events[code]).length ? " Counters are kept too." : "";
  return `${clock(seconds)} watched, ${many}${parts.length ? ` (${parts.join("; ")})` : ""}.${gap}${more}`;
}

function form(place, kit, look, ways, seconds) {
  const { el } = kit;
  const told = {
    minutes: model.minutes(look, seconds), teaching: null, teacher: null, activity: null,
    purpose: look.plan.pair ? "agreement" : null, present: null,
    setting: look.plan.setting ?? null, ...(look.told ?? {}),
  };
  told.minutes = Math.max(told.minutes, model.fewestMinutes(look));
  const trouble = el("p", { class: "trouble", role: "alert", hidden: true });
  const save = el("button", { type: "button", class: "wide", onclick: async () => {
    const lack = lacking(told);
    trouble.hidden = !lack;
    trouble.textContent = lack;
    if (lack) return;
    save.disabled = true;
    trouble.textContent = await ways.save(told);
    trouble.hidden = !trouble.textContent;
    save.disabled = false;
  } }, "Keep this look");
  const keep = (name) => (value) => { told[name] = value; ways.keepTold(told); };
  place.append(...questions(kit, look, told, keep), trouble, save);
}

function questions(kit, look, told, keep) {
  const least = model.fewestMinutes(look);
  return [
    choice(kit, { legend: "Who was teaching?", value: told.teacher, options: TEACHERS,
      onpick: keep("teacher") }),
    choice(kit, { legend: "What was the look for?", value: told.purpose, onpick: keep("purpose"),
      note: look.plan.pair ? "Two looked together: so it is set, change it if it was not." : "",
      options: PURPOSES }),
    stepper(kit, { legend: "Minutes watched", note: "From the timer, pauses left out.",
      value: told.minutes, from: told.minutes, least, most: 60, none: "", onpick: keep("minutes") }),
    stepper(kit, { legend: "Minutes of teaching in it", note: "May stay empty.", value: told.teaching,
      from: told.minutes, least: 0, most: 60, onpick: keep("teaching") }),
    choice(kit, { legend: "Where", value: told.setting, onpick: keep("setting"),
      note: "Set from the routine; change it if it was elsewhere.",
      options: places(kit.pack, look.plan.setting).map((one) => [one, spoken(one)]) }),
    choice(kit, { legend: "What the class was doing", note: "May stay empty.", value: told.activity,
      onpick: keep("activity"), options: activities(kit.pack) }),
    stepper(kit, { legend: "Children who were there", note: "May stay empty.", value: told.present,
      from: Math.min(60, look.plan.seats), least: 0, most: 60, onpick: keep("present") }),
  ];
}

function places(pack, own) {
  return [...new Set([own, ...(pack.settings ?? [])])].filter(Boolean);
}

function activities(pack) {
  const known = [...new Set([...Object.keys(ACTIVITIES), ...(pack.activities ?? [])])];
  return [[null, "Not said"], ...known.map((one) => [one, spoken(one, ACTIVITIES)])];
}

/** Letting go asks once more: a look cannot be brought back. */
function dropKey({ el }, { drop }) {
  let isSure = false;
  const key = el("button", { type: "button", class: "quiet", onclick: () => {
    if (isSure) return drop();
    isSure = true;
    key.textContent = "Really let it go? Nothing of it is kept";
  } }, "Let this look go");
  return key;
}
