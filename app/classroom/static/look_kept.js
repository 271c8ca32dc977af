/** Looks of today that this device or the school's inbox holds: shown, and taken back if need be. */

const NOTE = "looks today";

/** Remember that a look was kept today, without anything that was seen. */
export function noteKept(kit, look, record) {
  const before = ofToday(kit).filter((one) => one.key !== record.key);
  const { title, routine_id } = look.plan;
  const mine = { key: record.key, revision: record.revision, cells: record.cells, title, routine_id };
  kit.note(NOTE, { day: kit.now().day, looks: [...before, mine] });
}

function ofToday(kit) {
  const noted = kit.noted(NOTE);
  return noted?.day === kit.now().day ? noted.looks : [];
}

/** What stands now: of each key its newest revision, withdrawn ones left out. */
export function standing(sent, noted) {
  const found = new Map();
  for (const one of [...sent, ...noted]) {
    if ((found.get(one.key)?.revision ?? 0) <= one.revision) found.set(one.key, one);
  }
  return [...found.values()].filter((one) => one.cells.voided !== "true");
}

/** Draw the list below the form. */
export function drawKept(place, kit) {
  const { el, pack } = kit;
  const sent = (pack.sent ?? []).filter((one) => one.feed === "observation_sessions");
  const looks = standing(sent, ofToday(kit));
  if (looks.length === 0) return;
  const list = el("ul", { class: "plain" });
  place.append(el("section", {}, el("h2", {}, "Kept today"), list));
  for (const one of looks) list.append(line(kit, one));
}

function line(kit, one) {
  const { el, pack } = kit;
  const { cells } = one;
  const routine = pack.routines.find((known) => known.routine_id === cells.routine_id);
  const where = one.title ? `${one.title}, ` : "";
  const words = `${cells.started_at_local} · ${where}${routine?.name ?? cells.routine_id}, ${cells.minutes_observed} minutes`;
  const item = el("li", { class: "card" }, el("p", {}, words));
  let isSure = false;
  const key = el("button", { type: "button", class: "quiet", "aria-label": `Take back: ${words}`,
    onclick: async () => {
      if (!isSure) {
        isSure = true;
        key.textContent = "Really take this look back?";
        return;
      }
      await takeBack(kit, one);
      item.replaceChildren(el("p", {}, "Taken back. It will not count."));
    } }, "Take it back");
  item.append(key);
  return item;
}

async function takeBack(kit, one) {
  const revision = one.revision + 1;
  const cells = { ...one.cells, voided: "true" };
  await kit.keep({ key: one.key, revision, feed: "observation_sessions", cells, rows: [] });
  const looks = ofToday(kit).filter((other) => other.key !== one.key);
  kit.note(NOTE, { day: kit.now().day, looks: [...looks, { ...one, revision, cells }] });
}
