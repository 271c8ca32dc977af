/** The beep of a look: heard, felt and seen, each only if wanted; and a screen that stays awake. */

const open = { audio: null, lock: null };

/** Get sound ready. Browsers allow it only within a tap. */
export function ready() {
  const Audio = window.AudioContext ?? window.webkitAudioContext;
  if (!Audio) return;
  open.audio ??= new Audio();
  if (open.audio.state === "suspended") open.audio.resume().catch(() => {});
}

/**
 * Say that it is time to look.
 * @param {{sound: boolean, touch: boolean, light: boolean}} wanted which signals
 * @param {HTMLElement} place what is lit up; with reduced motion its edge changes without a flash
 */
export function signal(wanted, place) {
  if (wanted.sound) beep();
  if (wanted.touch) navigator.vibrate?.(120);
  if (wanted.light) light(place);
}

function beep() {
  const { audio } = open;
  if (!audio || audio.state !== "running") return;
  const tone = audio.createOscillator();
  const volume = audio.createGain();
  const now = audio.currentTime;
  tone.frequency.value = 660;
  volume.gain.setValueAtTime(0, now);
  volume.gain.linearRampToValueAtTime(0.18, now + 0.02);
  volume.gain.exponentialRampToValueAtTime(0.001, now + 0.22);
  tone.connect(volume).connect(audio.destination);
  tone.start(now);
  tone.stop(now + 0.25);
}

function light(place) {
  place.classList.remove("lit");
  // Asking for its size lets the same animation begin anew.
  void place.offsetWidth;
  place.classList.add("lit");
  setTimeout(() => place.classList.remove("lit"), 900);
}

/** Whether this device can be felt. */
export function canTouch() {
  return typeof navigator.vibrate === "function";
}

/** Keep the screen on while somebody watches, where the browser can. */
export async function stayAwake() {
  if (open.lock || !navigator.wakeLock || document.visibilityState !== "visible") return;
  open.lock = await navigator.wakeLock.request("screen").catch(() => null);
  open.lock?.addEventListener("release", () => (open.lock = null));
}

/** Let the screen sleep again. */
export function mayRest() {
  open.lock?.release().catch(() => {});
  open.lock = null;
}
