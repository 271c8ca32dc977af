/** "Look round": begin, watch, finish; what is half done survives everything but being let go. */

import { styled } from "./choices.js";
import { drawBegin } from "./look_begin.js";
import { drawFinish } from "./look_finish.js";
import * as model from "./look_model.js";
import { ready } from "./look_signal.js";
import { drawKept, noteKept } from "./look_kept.js";
import { drawWatch } from "./look_watch.js";

const NOTE = "look";
const open = { stop: null };

/** Draw the screen into a place. */
export async function show(place, kit) {
  await styled("look.css");
  if (!kit.pack.can_look) {
    notYet(place, kit);
    return;
  }
  draw(place, kit);
}

/** The screen goes; a look that is under way goes on by its time stamps. */
export function leave() {
  open.stop?.();
  open.stop = null;
  document.body.classList.remove("watching");
}

function notYet(place, { el, pack }) {
  place.append(el("h1", {}, "Look round"),
    el("p", {}, pack.why_no_look || "Who looks has to be known by her key in the people file."),
    el("p", { class: "note" }, "Everything else on this page works without it."));
}

function draw(place, kit) {
  leave();
  place.replaceChildren();
  const look = kit.noted(NOTE);
  document.body.classList.toggle("watching", Boolean(look) && !look.isEnding);
  if (!look) {
    drawBegin(place, kit, (plan) => begin(place, kit, plan));
    drawKept(place, kit);
  } else if (look.isEnding) end(place, kit, look);
  else watch(place, kit);
  // Who began or finished at the foot of a long page reads the next one from its top.
  place.parentElement.scrollTop = 0;
}

function begin(place, kit, plan) {
  ready();
  const { day, time } = kit.now();
  const look = model.begun(kit.fresh(), plan, { day, time, at: Date.now() });
  try {
    kit.note(NOTE, look);
  } catch (problem) {
    if (!(problem instanceof kit.Full)) throw problem;
    kit.say(problem.message);
    place.append(kit.el("p", { class: "trouble", role: "alert" }, problem.message));
    return;
  }
  draw(place, kit);
}

function watch(place, kit) {
  let look = kit.noted(NOTE);
  open.stop = drawWatch(place, kit, {
    get: () => look,
    put: (next) => { kit.note(NOTE, next); look = next; },
    finish: () => {
      kit.note(NOTE, { ...model.paused(look, Date.now()), isEnding: true });
      draw(place, kit);
    },
  });
}

function end(place, kit, look) {
  drawFinish(place, kit, look, {
    keepTold: (told) => { look = { ...look, told }; kit.note(NOTE, look); },
    back: () => {
      kit.note(NOTE, { ...model.resumed(look, Date.now()), isEnding: false });
      draw(place, kit);
    },
    drop: () => { kit.note(NOTE, null); draw(place, kit); },
    save: (told) => save(place, kit, look, told),
  });
}

/** Keep the look on the device; words when that did not work. */
async function save(place, kit, look, told) {
  const record = {
    key: look.key, revision: 1, feed: "observation_sessions",
    cells: model.cells(look, told), rows: model.rows(look),
  };
  try {
    await kit.keep(record);
  } catch (problem) {
    if (problem instanceof kit.Full) return problem.message;
    throw problem;
  }
  noteKept(kit, look, record);
  kit.note(NOTE, null);
  kit.say("The look is kept.");
  draw(place, kit);
  return "";
}
