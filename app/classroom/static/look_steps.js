/** The steps of the routine that is looked at, each with what may be said of it. */

import { STEPS } from "./look_words.js";

/**
 * A panel with the steps of the wording in use.
 * @returns {{panel: HTMLElement, markSteps: Function}} `markSteps({number: code})` shows what is said
 */
export function drawSteps(kit, steps, say) {
  const lines = steps.map((step) => line(kit, step, say));
  const panel = kit.el("section", {
    class: "steps", id: "look-steps", hidden: true, "aria-label": "Steps of the routine",
  }, kit.el("ol", {}, lines.map((one) => one.line)));
  const markSteps = (said) => {
    for (const { number, keys } of lines) {
      for (const key of keys) {
        key.setAttribute("aria-pressed", `${said[number] === key.dataset.code}`);
      }
    }
  };
  return { panel, markSteps };
}

function line({ el }, { number, text }, say) {
  const keys = STEPS.map(([code, word]) => el("button", {
    type: "button", class: "quiet", "aria-label": `Step ${number}: ${word}`, "data-code": code,
    onclick: () => say(number, code),
  }, word));
  return { number, keys,
    line: el("li", { value: number }, el("p", {}, text), el("div", { class: "step-keys" }, keys)) };
}
