/**
 * Devices that draw in one class through many rounds, as badly connected as can be: spells without
 * a net, requests that never arrive, answers that are lost or late, messages that come twice,
 * pages that are loaded anew at any moment, draws that are taken back, children who come and go.
 * Everything runs through the modules of the page itself; only the server's clock is told.
 */

import * as hats from "/classroom/files/hat.js";
import * as talk from "/classroom/files/hat_talk.js";

/** Numbers from a seed, so that a run that went wrong can be run again. */
export function seeded(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (mixed ^ (mixed >>> 14)) >>> 0;
  };
}

const again = (hat) => JSON.parse(JSON.stringify(hat));
const day = (number) => new Date(Date.UTC(2025, 8, 22 + number)).toISOString().slice(0, 10);

/** Run until a round number is reached; gives every draw and what went on. */
export async function run({ rounds, pupils, devices, seed, trouble = 1, moves = false }) {
  const random = seeded(seed);
  const chance = (share) => random() / 2 ** 32 < share * trouble;
  const world = {
    random, chance, now: 1000, day: 0, made: 0, draws: [], late: [], moves: 0,
    members: Array.from({ length: pupils }, (_, n) => `pu-${String(n).padStart(2, "0")}`),
    devices: Array.from({ length: devices }, (_, n) => ({
      hat: hats.begin(`device-${n}`), isOnline: true, skew: n * 170_000,
    })),
    told: { messages: 0, unanswered: 0, repeated: 0, backs: 0, offline: 0, undone: 0 },
  };
  const most = rounds * pupils * 60 + 4000;
  for (let step = 0; step < most && Math.max(...rounds_of(world)) < rounds; step += 1) {
    await one(world, moves);
  }
  return { draws: world.draws, told: world.told, round: Math.max(...rounds_of(world)), moves: world.moves };
}

const rounds_of = (world) => world.devices.map((device) => device.hat.round);

async function one(world, moves) {
  world.now += hats.below(40, world.random);
  if (world.chance(0.0007)) world.day += 1;
  if (moves && world.chance(0.02)) move(world);
  const device = world.devices[hats.below(world.devices.length, world.random)];
  if (device.isOnline ? world.chance(0.03) : !world.chance(0) && hats.below(25, world.random) === 0) {
    device.isOnline = !device.isOnline;
    world.told.offline += device.isOnline ? 0 : 1;
  }
  device.hat = again(device.hat);
  act(world, device);
  if (device.isOnline && hats.below(5, world.random) === 0) await contact(world, device);
  await stale(world);
}

/** A newcomer, or somebody leaves. */
function move(world) {
  world.moves += 1;
  if (world.members.length > 6 && hats.below(2, world.random)) {
    world.members.splice(hats.below(world.members.length, world.random), 1);
  } else {
    world.members.push(`pu-new-${String(world.moves).padStart(5, "0")}`);
  }
}

function act(world, device) {
  const { chance, random } = world;
  if (device.hat.left !== null) {
    if (hats.below(20, random) === 0) device.hat = talk.comeBack(device.hat);
    return;
  }
  if (device.hat.shown) settle(world, device);
  else if (chance(0.004)) device.hat = talk.leave(device.hat);
  else if (chance(0.03) && device.hat.last) undo(world, device);
  else if (chance(0.02)) here(world, device);
  else draw(world, device);
}

function here(world, device) {
  const away = Object.keys(device.hat.away).filter((one) => device.hat.away[one] === day(world.day));
  if (away.length) device.hat = hats.here(device.hat, away[hats.below(away.length, world.random)]);
}

/** Where a draw stands: each device has a clock of its own, some minutes off the others. */
function at(world, { hat, skew }) {
  const clock = Math.max(world.now * 1000 + skew, hat.clock + 1);
  world.made += 1;
  return { day: day(world.day), draw_id: `${String(clock).padStart(15, "0")}-${world.made}`, clock };
}

function draw(world, device) {
  if (hats.isOut(device.hat, day(world.day)) && device.hat.alone) mark(world, device);
  device.hat = hats.draw(device.hat, at(world, device), world.random);
}

function mark(world, device) {
  for (const pupil_id of hats.unmarked(device.hat, day(world.day))) {
    const { hat, drawn } = hats.absent(device.hat, at(world, device), pupil_id);
    device.hat = hat;
    log(world, device, drawn);
  }
}

function settle(world, device) {
  const number = hats.below(100, world.random);
  const outcome = world.chance(0.06) ? "absent" : world.chance(0.04) ? "unavailable"
    : number < 80 ? "answered" : number < 90 ? "helped" : number < 95 ? "passed" : "other_way";
  device.hat = hats.settle(device.hat, outcome);
  log(world, device, device.hat.last);
}

function log(world, device, { draw_id, pupil_id, round, outcome, day, sequence, eligible }) {
  world.draws.push({
    draw_id, device: device.hat.device, pupil_id, round, outcome, day, sequence, eligible,
    undone: false, members: world.members.length, waiting: false,
  });
}

function undo(world, device) {
  const { draw_id } = device.hat.last;
  device.hat = hats.undo(device.hat, at(world, device));
  if (hats.below(2, world.random)) device.hat = hats.putBack(device.hat);
  world.draws.find((one) => one.draw_id === draw_id).undone = true;
  world.told.undone += 1;
}

async function contact(world, device) {
  const { chance, told } = world;
  const begins = device.hat.over && hats.isOut(device.hat, day(world.day)) && !device.hat.shown;
  if (begins) mark(world, device);
  const { hat, body } = talk.compose(device.hat, day(world.day), { begins });
  device.hat = again(hat);
  told.messages += 1;
  if (chance(0.04)) { told.unanswered += 1; return; }
  const answer = await send(world, body);
  if (chance(0.05)) world.late.push({ body });
  if (chance(0.06)) { told.unanswered += 1; return; }
  if (chance(0.1)) { world.late.push({ answer, device }); return; }
  heard(world, device, answer);
}

function heard(world, device, answer) {
  const before = device.hat.number;
  const merged = talk.merge(device.hat, answer, day(world.day), world.random);
  world.told.backs += merged.number > before ? 1 : 0;
  device.hat = talk.anew(merged, `device-again-${world.made}`);
}

/** What comes late: an old message that the net repeats, an answer after more has happened. */
async function stale(world) {
  if (!world.late.length || hats.below(4, world.random)) return;
  const [one] = world.late.splice(hats.below(world.late.length, world.random), 1);
  if (one.answer) heard(world, one.device, one.answer);
  else {
    world.told.repeated += 1;
    await send(world, one.body);
  }
}

async function send(world, body) {
  return JSON.parse(await window.serve(JSON.stringify({ body, now: world.now, members: world.members })));
}
