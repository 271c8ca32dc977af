/** What the draw screen says. Pure: the hat and the day in, sentences out. */

import * as hats from "./hat.js";

export const OUTCOMES = [
  ["answered", "Answered"], ["helped", "With help"], ["other_way", "Another way"],
  ["passed", "Pass for now"], ["absent", "Away today"], ["unavailable", "Later"],
];

/** Ways of asking that are no draw of the round. `who` says how the child is found. */
export const WAYS = {
  partner: { word: "Partners", lead: "Turn to your partner. Both say their answer.", who: "Who speaks for the pair?" },
  choral: { word: "Everyone", lead: "Everyone holds an answer, then all say it together.", who: null },
  volunteer: { word: "A hand went up", lead: "Ask the question.", who: "Whose hand was it?" },
  teacher_choice: { word: "I choose", lead: "Ask the question.", who: "Whom did you ask?" },
  queue: { word: "Longest wait", lead: "Ask the question. Everyone holds an answer.", who: null },
  with_replacement: { word: "Any name", lead: "Ask the question. Everyone holds an answer.", who: null },
};

const number = (count, one, many) => `${count} ${count === 1 ? one : many}`;

/** How the round stands, in one sentence and its rule. */
export function roundWords(hat) {
  const size = hat.eligible.length;
  return `${Math.min(hat.had, size)} of ${size} have had a turn this round. ` +
    "A pass is a turn offered. Nobody is drawn twice before the round ends.";
}

/** What one tap will do, and what stands above it. */
export function idle(hat, day) {
  if (hats.canDraw(hat, day)) {
    const begins = hats.isOut(hat, day);
    return {
      can: true,
      lead: begins ? "Everyone here has had a turn. The next question begins a new round."
        : "Ask the question. Everyone holds an answer.",
    };
  }
  if (hat.over) return { can: true, begins: true, lead: "Everyone here has had a turn. The next question begins a new round." };
  return { can: false, lead: why(hat) };
}

/** Why no name can be drawn here just now, kindly, and that another way is open. */
function why(hat) {
  const also = "Another way of asking is open to you.";
  if (hat.left !== null) return "Ended for today. The names are back in the hat.";
  if (!hat.known) return `This device has no names yet: it needs the school’s network once. ${also}`;
  if (!hat.eligible.length) return "No child of this class can be drawn by the current build.";
  const holder = hat.holders.find((one) => one.begins);
  if (hat.elsewhere || holder) {
    const names = hat.elsewhere ? `${number(hat.elsewhere, "name is", "names are")} with another device`
      : "The names are with another device";
    return `${names}. It gives some back as soon as it is in touch, so that nobody is drawn twice. ${also}`;
  }
  return `The names here have had their turn; more come when this device is in touch again. ${also}`;
}

/** A quiet line about other devices, or nothing. */
export function besideWords(hat) {
  if (!hat.others || !hat.elsewhere) return "";
  return `Another device draws too: ${number(hat.elsewhere, "name is", "names are")} with it, ` +
    `${number(hat.share.length, "is", "are")} here.`;
}

/** How long everybody thought, as a person says it. */
export function waitedWords(waited) {
  const seconds = Math.round(Number(waited));
  return waited ? `waited ${number(seconds, "second", "seconds")}` : "";
}
