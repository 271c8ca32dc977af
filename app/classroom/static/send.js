/**
 * Sends the queue by itself: a few records at a time, in the order in which they were made, again
 * and again with growing pauses until the server has said of each that it has it.
 */

import * as store from "./store.js";
import { Answered, Ended, Offline, ask } from "./talk.js";

const FIRST_PAUSE = 2000;
const LONGEST_PAUSE = 60000;
const AT_ONCE = 20;

/** Settled by the server: these leave the queue. "known" is a record that came twice. */
const TAKEN = new Set(["kept", "known"]);

/**
 * How long to wait before the next try, in milliseconds: twice as long each time, up to a minute,
 * never exactly the same, so that thirty tablets do not come back in the same moment.
 */
export function pause(tries, chance = Math.random()) {
  return Math.min(LONGEST_PAUSE, FIRST_PAUSE * 2 ** Math.min(tries, 10)) * (0.5 + chance / 2);
}

/** The records to send next: waiting ones of these owners, the oldest first. */
export function batch(entries, owners, most = AT_ONCE) {
  return entries
    .filter((entry) => entry.state === "waiting" && owners.includes(entry.owner))
    .slice(0, most)
    .map((entry) => entry.record);
}

/** Write down what the server answered; how many records it has settled. */
export function settle(answers) {
  let settled = 0;
  for (const answer of answers) {
    if (TAKEN.has(answer.outcome)) store.done(answer);
    else if (answer.outcome === "refused") store.refuse(answer, answer.reasons ?? []);
    else continue;
    settled += 1;
  }
  return settled;
}

/** The one sender of this window. `owners()` says whose records may go; `heard` gets the news. */
export class Sender {
  constructor(owners, heard) {
    this.owners = owners;
    this.heard = heard;
    this.tries = 0;
    this.most = AT_ONCE;
    this.timer = null;
    this.isBusy = false;
    this.isAskedAgain = false;
  }

  /** Try at once: something new is there, or the net may be back. */
  now() {
    if (this.isBusy) {
      this.isAskedAgain = true;
      return Promise.resolve();
    }
    this.isBusy = true;
    clearTimeout(this.timer);
    return this.alone()
      .catch((problem) => {
        console.warn("sending", problem);
        this.later();
      })
      .finally(() => this.rest());
  }

  rest() {
    this.isBusy = false;
    if (this.isAskedAgain) {
      this.isAskedAgain = false;
      this.now();
    }
  }

  /** One window at a time sends, where the browser can tell them apart. */
  alone() {
    if (!navigator.locks) return this.all();
    return navigator.locks.request("roundelay send", () => this.all());
  }

  async all() {
    while (batch(store.queue(), this.owners(), 1).length > 0) {
      if (!(await this.once())) {
        this.later();
        return;
      }
    }
    this.tries = 0;
  }

  /** Send one batch; whether to go on. */
  async once() {
    const records = batch(store.queue(), this.owners(), this.most);
    try {
      const told = await ask("records", { device: store.device(), records });
      const settled = settle(told.answers ?? []);
      this.heard({ isOnline: true, words: words(told.answers) });
      this.tries = settled > 0 ? 0 : this.tries;
      return settled > 0;
    } catch (problem) {
      return this.unsent(problem, records);
    }
  }

  unsent(problem, records) {
    if (problem instanceof Offline) this.heard({ isOnline: false });
    else if (problem instanceof Ended) this.heard({ isOnline: true, isOver: true });
    else if (problem instanceof Answered && problem.status === 413) return this.smaller(records);
    else if (problem instanceof Answered) this.heard({ isOnline: true, words: problem.words });
    else throw problem;
    return false;
  }

  /** Too much at once: half of it, down to one record, which then is too large by itself. */
  smaller(records) {
    this.most = Math.max(1, Math.floor(records.length / 2));
    if (records.length === 1) {
      const reason = { field: "", rule: "too_large", words: "This record is too large to send." };
      store.refuse(records[0], [reason]);
      this.heard({ isOnline: true });
    }
    return true;
  }

  later() {
    this.timer = setTimeout(() => this.now(), pause(this.tries));
    this.tries += 1;
  }
}

/** What the server says about records that it could not take just now. */
function words(answers) {
  const stopped = (answers ?? []).find((answer) => answer.outcome === "stopped");
  return stopped?.reasons?.[0]?.words ?? "";
}
