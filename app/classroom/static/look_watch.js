/** While somebody watches: the seat at the beep, voices, counters, steps, and time to ready. */

import * as model from "./look_model.js";
import * as signals from "./look_signal.js";
import { drawSteps } from "./look_steps.js";
import { EVENTS, LOOKS, VOICES, actWords, clock, readyWords } from "./look_words.js";

const TICK = 200;
const SAVE_EVERY = 5000;
const QUESTION = "At the beep: is this child joining in, in a way we accept?";

/**
 * Draw a look that is under way.
 * @param {HTMLElement} place
 * @param {object} kit
 * @param {{get: Function, put: Function, finish: Function, now?: Function}} ways `get` gives the
 *   look, `put` keeps a new state of it before the screen says so, `finish` goes on
 * @returns {Function} ends the ticking
 */
export function drawWatch(place, kit, ways) {
  const screen = new Watch(place, kit, ways);
  screen.begin();
  return () => screen.end();
}

class Watch {
  constructor(place, kit, ways) {
    Object.assign(this, { place, kit, ways, parts: {}, beeps: null, timer: null });
    this.onSeen = () => this.tick();
  }

  get look() {
    return this.ways.get();
  }

  /** Seconds watched until now. */
  get seconds() {
    return model.seconds(this.look, Date.now());
  }

  begin() {
    const { look, place } = this;
    const steps = this.steps();
    // Undo stands right below the answers: on a small phone the rest is reached by scrolling.
    place.append(this.top(), this.answers(), this.foot(), this.voices(), this.counters(),
      this.ready(), steps);
    this.beeps = look.plan.beep ? Math.floor(this.seconds / look.plan.beep) : 0;
    document.addEventListener("visibilitychange", this.onSeen);
    this.timer = setInterval(this.onSeen, TICK);
    this.draw();
    signals.stayAwake();
  }

  end() {
    clearInterval(this.timer);
    document.removeEventListener("visibilitychange", this.onSeen);
    signals.mayRest();
  }

  /** Keep a new state on the device, then show it. Nothing here waits for the net. */
  put(look) {
    signals.ready();
    this.store(look);
    this.draw();
  }

  store(look) {
    const { trouble } = this.parts;
    try {
      this.ways.put(look);
      trouble.hidden = true;
    } catch (problem) {
      if (!(problem instanceof this.kit.Full)) throw problem;
      trouble.textContent = "This tablet has no room left: the last tap was not kept.";
      trouble.hidden = false;
    }
  }

  tick() {
    const now = Date.now();
    if (model.wasAway(this.look, now)) return this.away(now);
    if (model.isRunning(this.look)) this.beat(now);
    this.time();
  }

  beat(now) {
    const { look } = this;
    const { beep, minutes } = look.plan;
    if (now - look.seen > SAVE_EVERY) this.store({ ...look, seen: now });
    const made = beep ? Math.floor(this.seconds / beep) : 0;
    if (made !== this.beeps) {
      this.beeps = made;
      signals.signal(look.plan, this.parts.seat);
      if (this.seconds >= 60 * minutes && this.seconds < 60 * minutes + beep) {
        this.kit.say(`${minutes} minutes are over. Finish, or go on.`);
      }
      this.draw();
    }
    if (this.seconds >= model.LONGEST_SECONDS) this.put(model.paused(look, now));
  }

  /** The tablet slept or the page was away: nobody but the observer knows what that time was. */
  away(now) {
    const from = this.look.seen;
    this.store(model.paused(this.look, from));
    this.missing = { from, to: now };
    this.beeps = this.look.plan.beep ? Math.floor(this.seconds / this.look.plan.beep) : 0;
    this.draw();
  }

  top() {
    const { el } = this.kit;
    const { plan } = this.look;
    const parts = this.parts;
    parts.number = el("b", {});
    parts.seat = el("p", { class: "seat" }, plan.beep ? ["Seat ", parts.number, ` of ${plan.seats}`]
      : el("span", {}, plan.title));
    parts.round = el("p", { class: "note round" });
    parts.time = el("span", { class: "time" });
    parts.next = el("p", { class: "note next" });
    parts.bar = el("i", {});
    parts.away = el("div", { class: "trouble", role: "alert", hidden: true });
    parts.trouble = el("p", { class: "trouble", role: "alert", hidden: true });
    return el("div", { class: "watch-top" },
      el("h1", { class: "unseen" }, "Look round"),
      el("div", { class: "line" }, parts.seat, parts.round),
      el("div", { class: "progress", "aria-hidden": "true" }, parts.bar),
      el("div", { class: "line" }, parts.next, parts.time), parts.away, parts.trouble);
  }

  answers() {
    const { el } = this.kit;
    if (!this.look.plan.beep) return el("div", { hidden: true });
    this.parts.looks = LOOKS.map(([code, word]) => el("button", {
      type: "button", class: `look ${code}`,
      onclick: () => this.answer(code),
    }, word));
    return el("section", { "aria-label": "This seat" }, el("p", { class: "question" }, QUESTION),
      el("div", { class: "looks" }, this.parts.looks));
  }

  answer(code) {
    const { look } = this;
    const next = model.looked(look, code, this.seconds);
    if (next === look) this.kit.say("At the next beep.");
    else this.put(next);
  }

  voices() {
    const { el } = this.kit;
    const agreed = this.look.plan.expected_voice_level;
    this.parts.voices = VOICES.map((word, level) => el("button", {
      type: "button", class: "quiet", "aria-label": `Voices now ${level}, ${word}`,
      onclick: () => this.put(model.heard(this.look, level, this.seconds)),
    }, `${level}`));
    const known = agreed === null || agreed === undefined ? "none agreed"
      : `agreed: ${agreed}, ${VOICES[agreed]}`;
    return el("section", { class: "voices", "aria-label": "Voices" },
      el("p", {}, "Voices now", el("small", {}, known)),
      el("div", { class: "levels" }, this.parts.voices));
  }

  counters() {
    const { el } = this.kit;
    this.parts.counts = EVENTS.map(([code, what, how]) => {
      const count = el("b", {});
      const key = el("button", {
        type: "button", class: "quiet count",
        onclick: () => this.put(model.counted(this.look, code, this.seconds)),
      }, el("span", {}, `${what} `, el("small", {}, how)), count);
      return { code, key, count };
    });
    return el("section", { class: "counters", "aria-label": "What the teacher did" },
      this.parts.counts.map((one) => one.key));
  }

  ready() {
    const { el } = this.kit;
    const go = (make) => () => this.put(make(this.look, this.seconds));
    this.parts.signal = el("button", { type: "button", class: "quiet", onclick: go(model.signalled) },
      "Signal given: time until ready");
    this.parts.isReady = el("button", { type: "button", class: "quiet",
      onclick: go((look, now) => model.settled(look, "ready", now)) });
    this.parts.notReady = el("button", { type: "button", class: "quiet",
      onclick: go((look, now) => model.settled(look, "censored", now)) }, "Not ready: stop");
    this.parts.took = el("span", { class: "note" });
    return el("section", { class: "ready", "aria-label": "Time until ready" }, this.parts.signal,
      this.parts.isReady, this.parts.notReady, this.parts.took);
  }

  steps() {
    const { plan } = this.look;
    const panel = drawSteps(this.kit, plan.steps ?? [],
      (number, code) => this.put(model.stepped(this.look, number, code)));
    Object.assign(this.parts, panel);
    return panel.panel;
  }

  foot() {
    const { el } = this.kit;
    const { parts } = this;
    const key = (word, tap, more = {}) => el("button",
      { type: "button", class: "quiet foot", onclick: tap, ...more }, word);
    parts.undo = key("Undo", () => this.put(model.undone(this.look, this.seconds)));
    parts.pause = key("Pause", () => this.pauseOrGo());
    parts.more = key("Steps", () => this.openSteps(), { "aria-expanded": "false",
      "aria-controls": "look-steps", hidden: (this.look.plan.steps ?? []).length === 0 });
    parts.finish = key("Finish", () => this.ways.finish());
    return el("div", { class: "look-foot" }, parts.undo, parts.pause, parts.more, parts.finish);
  }

  openSteps() {
    const { panel, more } = this.parts;
    panel.hidden = !panel.hidden;
    more.setAttribute("aria-expanded", `${!panel.hidden}`);
    if (!panel.hidden) panel.scrollIntoView({ block: "nearest" });
  }

  pauseOrGo() {
    const now = Date.now();
    this.missing = null;
    this.put(model.isRunning(this.look) ? model.paused(this.look, now) : model.resumed(this.look, now));
  }

  /** Count the time away: somebody kept watching while the tablet slept. */
  watchedOn() {
    this.missing = null;
    const { spans } = this.look;
    const open = [...spans.slice(0, -1), [spans.at(-1)[0], null]];
    this.put({ ...this.look, spans: open, seen: Date.now() });
    this.beeps = this.look.plan.beep ? Math.floor(this.seconds / this.look.plan.beep) : 0;
  }

  draw() {
    const { look, parts } = this;
    const seen = model.tally(look);
    parts.voices.forEach((key, level) => key.setAttribute("aria-pressed", `${seen.voice === level}`));
    for (const { code, count } of parts.counts) count.textContent = `${seen.events[code] ?? 0}`;
    parts.markSteps(seen.steps);
    const last = look.acts.at(-1);
    parts.undo.disabled = !last;
    parts.undo.setAttribute("aria-label", last ? `Undo: ${actWords(last)}` : "Undo");
    parts.pause.textContent = model.isRunning(look) ? "Pause" : "Go on";
    const isWaiting = model.waitingSince(look) !== null;
    parts.signal.hidden = isWaiting;
    parts.isReady.hidden = parts.notReady.hidden = !isWaiting;
    parts.took.textContent = seen.ready && !isWaiting ? readyWords(seen.ready) : "";
    this.drawAway();
    this.time();
  }

  drawAway() {
    const { away } = this.parts;
    const { el } = this.kit;
    away.hidden = !this.missing;
    if (!this.missing) return;
    const minutes = Math.round((this.missing.to - this.missing.from) / 60000);
    away.replaceChildren(
      el("p", {}, `The tablet was away for ${minutes === 1 ? "a minute" : `${minutes} minutes`}. The look stands still since then.`),
      el("div", { class: "row" },
        el("button", { type: "button", onclick: () => this.pauseOrGo() }, "Go on from here"),
        el("button", { type: "button", class: "second", onclick: () => this.watchedOn() },
          "I watched all the time")));
  }

  /** What changes with the clock alone. */
  time() {
    const { look, parts, seconds } = this;
    const { plan } = look;
    parts.time.textContent = `${clock(seconds)} of ${plan.minutes}:00`;
    const since = model.waitingSince(look);
    if (since !== null) parts.isReady.textContent = `Ready · ${clock(seconds - since)}`;
    parts.bar.style.width = `${Math.min(100, (100 * seconds) / (60 * plan.minutes))}%`;
    const place = model.due(look, seconds);
    parts.next.textContent = this.nextWords(place);
    if (!place) return;
    parts.number.textContent = `${place.seat}`;
    const missed = model.missed(look, seconds);
    parts.round.textContent = `round ${place.round}${missed ? ` · ${missed} missed` : ""}`;
    for (const key of parts.looks) key.setAttribute("aria-disabled", `${!place.isOpen}`);
  }

  nextWords(place) {
    if (!model.isRunning(this.look)) return "Paused.";
    if (!place) return "";
    if (place.isAgain) return "Once more for this seat.";
    if (place.isOpen) return "Now.";
    const next = `Next look in ${Math.max(1, Math.ceil(place.at - this.seconds))} s`;
    const { minutes } = this.look.plan;
    return this.seconds < 60 * minutes ? next : `${minutes} minutes are over. ${next}`;
  }
}
