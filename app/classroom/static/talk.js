/** Talking to the school's server: JSON there and back, with two plain ways of not getting through. */

const ROOT = new URL("../../", import.meta.url);
const PATIENCE = 20000;

/** Nobody answered: no net, or the server is away. What was asked may be asked again. */
export class Offline extends Error {
  constructor() {
    super("There is no connection just now.");
    this.name = "Offline";
  }
}

/** The visit is over: somebody has to sign in, or to pair this tablet, again. */
export class Ended extends Error {
  constructor() {
    super("The visit is over.");
    this.name = "Ended";
  }
}

/** The server understood and said no; `status`, `words` and `told` (its whole answer) say why. */
export class Answered extends Error {
  constructor(status, told) {
    super(told?.words ?? "This did not work.");
    this.name = "Answered";
    this.status = status;
    this.words = this.message;
    this.told = told;
  }
}

/** An address of the dashboard, wherever it is mounted. */
export function address(path) {
  return new URL(path, ROOT).href;
}

/**
 * Ask below `api/classroom/`; with a body it is a POST.
 * @param {string} path as `pack`, `hat` or `records`
 * @param {object} [body] what is sent, as JSON
 * @returns {Promise<object>} the answer
 */
export async function ask(path, body) {
  const plain = path.replace(/^\//, "").replace(/^api\/classroom\//, "");
  const answer = await reach(address(`api/classroom/${plain}`), body);
  if (answer.status === 401) throw new Ended();
  const told = await answer.json().catch(() => null);
  if (answer.ok && told !== null) return told;
  // A web server in front that finds nobody behind it says so in its own words.
  if (told === null || [502, 504].includes(answer.status)) throw new Offline();
  throw new Answered(answer.status, told);
}

async function reach(where, body) {
  const stop = new AbortController();
  const timer = setTimeout(() => stop.abort(), PATIENCE);
  const post = {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  };
  try {
    const common = { signal: stop.signal, redirect: "error", cache: "no-store" };
    return await fetch(where, { ...common, ...(body === undefined ? {} : post) });
  } catch (problem) {
    throw new Offline();
  } finally {
    clearTimeout(timer);
  }
}
