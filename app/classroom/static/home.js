/** "Home": how many families practised a routine in a week. Two numbers, never which family. */

import { choice, stepper, styled } from "./choices.js";
import * as model from "./home_model.js";

const NOTE = "home weeks";
const OTHER = "other";

/** Draw the screen into a place. */
export async function show(place, kit) {
  await styled();
  draw(place, kit, blank(), "");
}

function blank() {
  return { routine_id: null, week: null, asked: null, isOther: false, practised: null };
}

function entries(kit) {
  return model.standing(kit.pack.families, kit.noted(NOTE));
}

function draw(place, kit, form, said) {
  const { el } = kit;
  const trouble = el("p", { class: "trouble", role: "alert", hidden: true });
  const stands = el("p", { class: "note", "aria-live": "polite" });
  const asked = el("div");
  const again = () => tellStanding(kit, form, stands);
  const parts = [
    el("h1", { tabindex: "-1" }, "Practice at home"),
    said ? el("p", { class: "done" }, said) : null,
    el("p", {}, "How many families said that they practised. Only numbers, never which family."),
    routines(kit, form, again), weeks(kit, form, again), stands,
    asked, practised(kit, form), trouble,
    el("button", { type: "button", class: "wide",
      onclick: () => save(place, kit, form, trouble) }, "Save"),
    written(place, kit),
  ];
  place.replaceChildren(...parts.filter(Boolean));
  drawAsked(kit, form, asked);
  again();
  if (!said) return;
  kit.say(said);
  place.querySelector("h1").focus();
}

function routines(kit, form, again) {
  const options = kit.pack.routines.map((one) => [one.routine_id, one.name]);
  return choice(kit, { legend: "Routine", options, value: form.routine_id,
    onpick: (picked) => { form.routine_id = picked; again(); } });
}

function weeks(kit, form, again) {
  const options = model.weeks(kit.pack.families, kit.now().day)
    .map(([first, words]) => [first, words, `from ${model.dayWords(first)}`]);
  return choice(kit, { legend: "Week", options, value: form.week,
    onpick: (picked) => { form.week = picked; again(); } });
}

function drawAsked(kit, form, place) {
  const { size } = kit.pack.class;
  const every = size > 0 && size <= model.MOST ? [[size, `All ${size}`, "one a child"]] : [];
  const value = form.isOther ? OTHER : form.asked;
  const keys = choice(kit, { legend: "Families asked", options: [...every, [OTHER, "Another number"]],
    value, onpick: (picked) => pick(kit, form, place, picked) });
  place.replaceChildren(keys);
  if (!form.isOther) return;
  place.append(stepper(kit, { legend: "How many were asked", value: form.asked, from: size || 1,
    least: 1, most: model.MOST, none: "", onpick: (number) => { form.asked = number; } }));
}

function pick(kit, form, place, picked) {
  const wasOther = form.isOther;
  form.isOther = picked === OTHER;
  form.asked = form.isOther ? null : picked;
  if (wasOther === form.isOther) return;
  drawAsked(kit, form, place);
  place.querySelector("input:checked")?.focus();
}

function practised({ el }, form) {
  const input = el("input", { type: "number", id: "practised", inputmode: "numeric", min: "0",
    max: String(model.MOST), step: "1", autocomplete: "off", value: form.practised ?? "",
    oninput: () => { form.practised = input.value === "" ? null : Number(input.value); } });
  return el("div", { class: "field" }, el("label", { for: "practised" }, "Families who practised"),
    input);
}

/** What the chosen week says already, so that nobody is surprised by what takes its place. */
function tellStanding(kit, form, place) {
  const found = model.entryOf(entries(kit), form);
  place.textContent = model.isTold(found)
    ? `Written down already: ${model.numbersWords(found)}. What you save takes its place.` : "";
}

async function save(place, kit, form, trouble) {
  const words = model.wrong(form);
  const entry = model.entryOf(entries(kit), form);
  if (words || !entry) {
    trouble.textContent = words || "This week cannot be written down on this device. Connect it once, then try again.";
    trouble.hidden = false;
    return;
  }
  await keep(place, kit, model.record(entry, form), trouble, "Saved");
}

/** Keep a record, and note it until the school's own list has it. */
async function keep(place, kit, record, trouble, word) {
  const name = kit.pack.routines.find((one) => one.routine_id === record.cells.routine_id)?.name;
  try {
    await kit.keep(record);
    const { key, revision, cells } = record;
    kit.note(NOTE, { ...recent(kit), [key]: { revision, cells } });
  } catch (problem) {
    if (!(problem instanceof kit.Full)) throw problem;
    trouble.textContent = problem.message;
    trouble.hidden = false;
    return;
  }
  draw(place, kit, blank(), `${word}: ${name}, ${model.numbersWords(record)}.`);
}

/** The notes of weeks that can still be chosen; older ones are let go. */
function recent(kit) {
  const known = new Set((kit.pack.families ?? []).map((one) => one.key));
  const all = Object.entries(kit.noted(NOTE) ?? {});
  return Object.fromEntries(all.filter(([key]) => known.has(key)));
}

function written(place, kit) {
  const { el } = kit;
  const told = entries(kit).filter(model.isTold);
  if (!told.length) return null;
  return el("section", {}, el("h2", {}, "Written down on the tablets of this class"),
    el("ul", { class: "plain" }, told.map((one) => line(place, kit, one))));
}

function line(place, kit, one) {
  const { el } = kit;
  const name = kit.pack.routines.find((own) => own.routine_id === one.routine_id)?.name ?? "";
  const words = `Week of ${model.dayWords(one.week_first_on)} · ${name} · ${model.numbersWords(one)}`;
  const trouble = el("p", { class: "trouble", role: "alert", hidden: true });
  const form = { asked: Number(one.cells.families_asked), practised: Number(one.cells.families_reported) };
  let isSure = false;
  const back = el("button", { type: "button", class: "quiet", "aria-label": `Take back: ${words}`,
    onclick: () => {
      if (isSure) return keep(place, kit, model.record(one, form, true), trouble, "Taken back");
      isSure = true;
      back.textContent = "Really take it back?";
      back.setAttribute("aria-label", `Really take back: ${words}`);
    } }, "Take it back");
  return el("li", { class: "card" }, el("p", {}, words), trouble, el("div", { class: "row" }, back));
}
