/**
 * A turn for everyone: ask, wait, then the name; one tap says what came of it, and the next question
 * can begin. What the screen shows is always what the device has noted, so that a page that is
 * closed, asleep or loaded anew goes on where it was.
 */

import * as hats from "./hat.js";
import * as talk from "./hat_talk.js";
import * as device from "./draw_state.js";
import { besideWords, idle, roundWords, WAYS } from "./draw_words.js";
import { notes } from "./draw_shapes.js";
import * as stage from "./draw_stage.js";

/** So often it is looked whether there is a reason to be in touch; without one, every third time. */
const EVERY = 5000;
let here = null;

/** Show the screen in a place; `leave` ends it. */
export async function show(place, kit) {
  style(place);
  const { el } = kit;
  here = { kit, place, picked: null, words: "", timers: [], ends: [], isBusy: false, ticks: 0, looks: "", open: new Set() };
  const said = el("p", { class: "trouble", hidden: true });
  Object.assign(here, {
    said, stage: el("div", { class: "stage" }), round: el("div", { class: "of-round" }),
    more: el("div", { class: "more" }),
  });
  place.append(el("h1", {}, "A turn for everyone"), said, here.stage, here.round, here.more);
  here.ends.push(kit.on("online", touch), kit.on("queue", news));
  here.timers.push(setInterval(tick, EVERY));
  addEventListener("storage", again);
  await guarded(() => device.change(kit, (hat) => hat));
  await touch();
}

/** The screen is left: nothing of it runs on. */
export function leave() {
  if (!here) return;
  here.timers.forEach(clearInterval);
  here.ends.forEach((end) => end());
  stage.stop();
  removeEventListener("storage", again);
  here = null;
}

function style(place) {
  const href = new URL("./draw.css", import.meta.url).href;
  if (document.querySelector(`link[href="${href}"]`)) return;
  const link = document.createElement("link");
  Object.assign(link, { rel: "stylesheet", href });
  document.head.append(link);
}

function again(event) {
  if (here && event.key?.endsWith(" hat")) draw(device.read(here.kit));
}

/** Do something with the hat and show what came of it; say so when the device takes no more. */
async function guarded(job) {
  const mine = here;
  if (!mine) return null;
  let words = "";
  try {
    await job();
  } catch (problem) {
    words = stage.troubleWords(problem, mine.kit);
    if (words === null) throw problem;
  }
  if (here !== mine) return null;
  mine.said.textContent = words;
  mine.said.hidden = !words;
  return draw(device.read(mine.kit));
}

/** Records have gone out: what they say can be told now. */
function news() {
  if (here && device.read(here.kit).news.length) touch();
}

function tick() {
  if (!here?.kit.pack || document.visibilityState !== "visible") return;
  const hat = device.read(here.kit);
  here.ticks = (here.ticks + 1) % 3;
  const hasReason = hat.news.length || (hat.left === null && hats.isOut(hat, here.kit.now().day));
  if (hasReason || here.ticks === 0) touch();
}

/**
 * Be in touch with the server, once at a time; without a net nothing happens. Names that are asked
 * for by another device are given back in the same breath.
 */
async function touch(how = {}) {
  const mine = here;
  if (!mine || mine.isBusy || !mine.kit.pack) return;
  mine.isBusy = true;
  try {
    const hat = await guarded(() => device.contact(mine.kit, how));
    // A device that was given up for lost has just begun anew: it asks as what it is now.
    const isAnew = hat?.message === 0;
    if (isAnew || hat?.news.some((one) => one.what === "back")) await guarded(() => device.contact(mine.kit));
  } finally {
    mine.isBusy = false;
  }
}

/** The whole screen from the hat. */
function draw(hat) {
  if (!here?.kit.pack) return hat;
  const { kit } = here;
  const { day } = kit.now();
  // What has not changed is not drawn anew: nothing moves under the finger.
  const { message, sent, news, clock, ...seen } = hat;
  const looks = JSON.stringify([seen, here.picked, day, kit.pack.build]);
  if (looks === here.looks) return hat;
  here.looks = looks;
  const hadFocus = here.stage.contains(document.activeElement);
  here.stage.replaceChildren(stage.scene(kit, hat, here.picked, acts));
  here.round.replaceChildren(
    ...(hat.eligible.length ? [notes(Math.min(hat.had, hat.eligible.length), hat.eligible.length),
      kit.el("p", { class: "note" }, roundWords(hat))] : []),
    kit.el("p", { class: "note", hidden: !besideWords(hat) }, besideWords(hat)),
  );
  here.more.replaceChildren(...stage.more(kit, hat, day, here.picked, acts, here.open));
  if (hadFocus) stage.focus(here.stage);
  return hat;
}

const own = (how) => guarded(() => device.change(here.kit, how));

/** What taps do. */
const acts = {
  /** The question was asked: the wait begins, unless a new round must be asked for first. */
  async ask(way = "cycle") {
    const { kit } = here;
    const { day } = kit.now();
    const state = idle(device.read(kit), day);
    if (way === "cycle" && state.begins) await touch({ begins: true });
    if (way === "cycle" && !hats.canDraw(device.read(kit), day)) return;
    await own((hat) => (hat.shown ? hat : { ...hat, asked: { at: Date.now(), way } }));
  },
  /** The wait is over: the name, or everybody. */
  async reveal(asked) {
    const { kit } = here;
    const seconds = (Date.now() - asked.at) / 1000;
    // A tablet that slept in between has not waited: nobody timed it.
    const waited = seconds <= 60 ? String(Math.round(seconds * 10) / 10) : "";
    here.picked = null;
    if (asked.way === "cycle") await guarded(() => device.draw(kit, waited));
    else await own((hat) => stage.otherWay(kit, hat, asked.way, waited));
    const hat = device.read(kit);
    if (hat.shown) kit.say(stage.nameOf(kit, hat.shown));
    else touch();
  },
  /** Stop the wait; nobody was drawn. */
  stop: () => own((hat) => ({ ...hat, asked: null })),
  settle: async (outcome) => {
    await guarded(() => device.settle(here.kit, outcome));
    here?.kit.say("Saved. Ready for the next question.");
  },
  undo: async () => {
    await guarded(() => device.undo(here.kit));
    here?.kit.say("The last one is taken back.");
  },
  putBack: () => own(hats.putBack),
  here: async (pupil_id) => {
    await own((hat) => hats.here(hat, pupil_id));
    await touch();
  },
  leave: async () => {
    await own(talk.leave);
    await touch();
  },
  comeBack: async () => {
    await own(talk.comeBack);
    await touch();
    await touch();
  },
  /** Another way of asking: the wait first where there is one to think, else the child. */
  way: (name) => (WAYS[name].who ? acts.pick(name) : acts.ask(name)),
  pick: (name) => {
    here.picked = name;
    draw(device.read(here.kit));
  },
  chosen: async (name, pupil_id) => {
    const { kit } = here;
    here.picked = null;
    await own((hat) => hats.show(hat, device.place(kit, hat), name, pupil_id));
  },
  endOther: async (other) => {
    await guarded(() => here.kit.ask("hat", { ends: other }));
    await touch();
  },
};
