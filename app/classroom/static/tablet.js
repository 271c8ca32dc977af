/** "This tablet": what waits here, what was not taken, and class tablets that are paired today. */

import { Answered, Ended, Offline, end, send } from "./kit.js";
import { address } from "./talk.js";

const FEEDS = {
  routine_lessons: "A lesson",
  participation_draws: "A name out of the hat",
  observation_sessions: "A look round",
  family_practice: "Practice at home",
};
const open = { ends: [] };

/** Draw the screen into a place and keep it as it is in truth. */
export async function show(place, kit) {
  const { el } = kit;
  const queue = el("section", {});
  const tablets = el("section", {});
  place.append(el("h1", {}, "This tablet"), queue, tablets);
  const draw = () => drawQueue(queue, kit);
  open.ends = [kit.on("queue", draw), kit.on("online", draw)];
  draw();
  if (kit.pack.who && !kit.pack.is_paired) place.append(leaving(kit));
  if (kit.pack.can_pair) await drawTablets(tablets, kit);
  else tablets.append(el("p", { class: "note" }, kit.pack.why_no_pairing));
}

/** Signing out here takes the names away first, should the net be gone in between. */
function leaving({ el, pack }) {
  return el("section", {},
    el("h2", {}, "Signed in"),
    el("p", {}, `${pack.who}. When you sign out, the names of the class leave this device; what still waits stays and is sent later.`),
    el("p", {}, el("a", { class: "button second", href: address("signout"), onclick: () => end() }, "Sign out")));
}

/** The screen goes: nobody has to be told any more. */
export function leave() {
  for (const stop of open.ends) stop();
  open.ends = [];
}

function drawQueue(place, kit) {
  const { el } = kit;
  const entries = kit.queue();
  const waiting = entries.filter((entry) => entry.state === "waiting");
  const refused = entries.filter((entry) => entry.state === "refused");
  const mine = [kit.pack?.owner, kit.pack?.self];
  const others = waiting.filter((entry) => !mine.includes(entry.owner)).length;
  place.replaceChildren(el("div", {},
    el("p", {}, sentence(waiting.length, refused.length, kit.standing())),
    others ? el("p", { class: "note" }, `${others} of them belong to another class or person, and are sent when somebody of theirs signs in here.`) : null,
    waiting.length && waiting.length > others
      ? el("button", { type: "button", class: "second", onclick: () => send() }, "Try to send now")
      : null,
    refused.length ? el("h2", {}, "To look at") : null,
    el("ul", { class: "plain", hidden: !refused.length }, refused.map((entry) => card(entry, kit))),
  ));
}

function sentence(waiting, refused, { isOnline, words }) {
  if (words) return `${waiting} waiting. ${words}`;
  if (!waiting && refused) return "Nothing else is waiting here.";
  if (!waiting) return isOnline ? "Everything that was written down here has been sent." : "Everything that was written down here has been sent. There is no connection just now.";
  const many = waiting === 1 ? "1 record is" : `${waiting} records are`;
  return isOnline
    ? `${many} saved here and on the way. They are sent by themselves.`
    : `${many} saved here. They are sent by themselves as soon as there is a connection; you may close this page.`;
}

function card(entry, kit) {
  const { el } = kit;
  const { record, reasons } = entry;
  const { taught_on, drawn_on, observed_on, week_first_on } = record.cells;
  const day = dated(taught_on ?? drawn_on ?? observed_on ?? week_first_on);
  const away = (event) => ask(event.target, "Take it away for good?", () => kit.forget(record.key), kit);
  return el("li", { class: "card" },
    el("p", {}, el("b", {}, `${FEEDS[record.feed] ?? record.feed} ${day}`.trim()),
      " was not taken. It is still saved here."),
    reasons.map((reason) => el("p", { class: "trouble" }, reason.words ?? reason.rule)),
    el("div", { class: "row" },
      el("button", { type: "button", class: "quiet", onclick: away }, "Take it away")));
}

/** A day as people write it. */
function dated(day) {
  if (!day) return "";
  const form = { weekday: "long", day: "numeric", month: "long" };
  return `of ${new Date(`${day}T12:00`).toLocaleDateString("en-GB", form)}`;
}

/** Ask once more before something cannot be had back. */
function ask(button, words, done, kit) {
  const { el } = kit;
  const row = button.parentElement;
  const before = [...row.childNodes];
  const yes = el("button", { type: "button", onclick: done }, "Yes");
  row.replaceChildren(el("span", {}, words), yes,
    el("button", { type: "button", class: "quiet", onclick: () => row.replaceChildren(...before) }, "No, keep it"));
  yes.focus();
}

async function drawTablets(place, kit) {
  const { el } = kit;
  place.replaceChildren(
    el("h2", {}, "A class tablet for today"),
    el("p", {}, "Give a tablet that stays in the room a code. Until this evening it can then do for this class what you can do here, and nothing else. Nobody has to sign in on it."),
  );
  const list = el("div", { class: "below" });
  const make = el("button", { type: "button", onclick: () => change(list, kit, { make: true }) }, "Make a code");
  place.append(make, list);
  await change(list, kit);
}

async function change(list, kit, body) {
  const { el } = kit;
  try {
    list.replaceChildren(...paired(await kit.ask("devices", body), list, kit));
  } catch (problem) {
    if (problem instanceof Ended) return;
    const words = problem instanceof Answered ? problem.words
      : problem instanceof Offline ? "Pairing needs a connection; there is none just now." : null;
    if (words === null) throw problem;
    list.replaceChildren(el("p", { class: "trouble" }, words));
  }
}

function paired({ code, minutes, devices }, list, kit) {
  const { el } = kit;
  const shown = code
    ? el("div", { class: "card" },
        el("p", {}, "On the class tablet, open ", el("b", {}, kit.pack.pair_address ?? address("classroom/pair")), " and type"),
        el("p", { class: "code" }, `${code.slice(0, 4)} ${code.slice(4)}`),
        el("p", { class: "note" }, `It works once, within ${minutes} minutes.`))
    : null;
  if (code) kit.say(`The code is ${[...code].join(" ")}.`);
  const finish = (one) => (event) => ask(event.target, "End it now?",
    () => change(list, kit, { end: one.device_id }), kit);
  const items = devices.map((one) => el("li", { class: "card" },
    el("p", {}, el("b", {}, one.words)),
    el("div", { class: "row" },
      el("button", { type: "button", class: "quiet", onclick: finish(one) }, "End it"))));
  return [shown, devices.length ? el("h2", {}, "Paired today") : null, el("ul", { class: "plain", hidden: !items.length }, items)]
    .filter((one) => one !== null);
}
