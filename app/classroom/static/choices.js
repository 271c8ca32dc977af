/** Ways to choose with a thumb: one of several, a number up and down, yes or no. */

let made = 0;

/**
 * One of several, as a group of real radio buttons that look like large keys.
 * @param {object} kit
 * @param {{legend: string, note?: string, options: Array, value: *, onpick: Function}} told
 *   options are `[value, word, small word]`; with a value that is none of them, none is picked
 */
export function choice({ el }, { legend, note, options, value, onpick }) {
  const name = `choice-${(made += 1)}`;
  const keys = options.map(([own, word, small]) => el("label", { class: "key" },
    el("input", { type: "radio", name, value: own ?? "", checked: own === value,
      onchange: () => onpick(own) }),
    el("span", {}, word, small ? el("small", {}, small) : null)));
  return el("fieldset", { class: "choice" }, el("legend", {}, legend),
    note ? el("p", { class: "note" }, note) : null, el("div", { class: "keys" }, keys));
}

/**
 * A whole number, up and down; null while nobody has said one.
 * @param {object} kit
 * @param {{legend: string, note?: string, value: number|null, from: number, least: number,
 *   most: number, none?: string, onpick: Function}} told `from` is where the first tap begins
 */
export function stepper({ el }, { legend, note, value, from, least, most, none = "not said", onpick }) {
  let number = value;
  const shown = el("output", { "aria-live": "polite" });
  const less = el("button", { type: "button", class: "quiet", "aria-label": `${legend}: one fewer` }, "−");
  const more = el("button", { type: "button", class: "quiet", "aria-label": `${legend}: one more` }, "+");
  const clear = none === "" ? null
    : el("button", { type: "button", class: "plain-link", "aria-label": `${legend}: ${none}` }, none);
  const draw = () => {
    shown.textContent = number === null ? "–" : `${number}`;
    if (clear) clear.hidden = number === null;
  };
  const set = (next) => {
    number = next === null ? null : Math.min(most, Math.max(least, next));
    draw();
    onpick(number);
  };
  less.addEventListener("click", () => set(number === null ? from : number - 1));
  more.addEventListener("click", () => set(number === null ? from : number + 1));
  clear?.addEventListener("click", () => set(null));
  draw();
  return el("fieldset", { class: "stepper" }, el("legend", {}, legend),
    note ? el("p", { class: "note" }, note) : null,
    el("div", { class: "row" }, less, shown, more, clear));
}

/** Yes or no. */
export function toggle({ el }, { word, value, onpick }) {
  const input = el("input", { type: "checkbox", checked: value, onchange: () => onpick(input.checked) });
  return el("label", { class: "key toggle" }, input, el("span", {}, word));
}

/** See to it that sheets of styles are there before something is drawn with them. */
export function styled(...names) {
  return Promise.all(["choices.css", ...names].map(sheet));
}

function sheet(name) {
  const href = new URL(`./${name}`, import.meta.url).href;
  if (document.querySelector(`link[href="${href}"]`)) return Promise.resolve();
  const link = Object.assign(document.createElement("link"), { rel: "stylesheet", href });
  return new Promise((done) => {
    link.onload = link.onerror = done;
    document.head.append(link);
  });
}
