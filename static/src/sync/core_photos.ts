// SPDX-License-Identifier: Apache-2.0
// The part of the core that sends photos: behind all records, one part at a time, from where the server says it
// holds them to. How far that is, is asked before the first part of each start and after each part that failed.
import { maySend, nextPush } from "./core_send.js";
import { pause, RESTING, type CoreEvent, type CoreState, type Effect, type Photo } from "./core_state.js";

const LARGEST_PART = 256 * 1024;
export const SMALLEST_PART = 4 * 1024;
const NOT_NAMED_PAUSE_MS = 60_000;
const MOST_BROKEN = 3;

export function newPhoto({ file, size }: { readonly file: string; readonly size: number }): Photo {
  return { file, size, held: undefined, state: "waiting", due: 0, broken: 0 };
}

/** True when no record waits: what a hand marked goes first, always. */
function maySendPhoto(state: CoreState, now: number): boolean {
  if (state.session !== "live" || state.photo.isUnderWay || state.asksMark) return false;
  return maySend(state) && nextPush(state, now) === undefined;
}

/** The photo whose turn it is. */
export function nextPhoto(state: CoreState, now: number): Photo | undefined {
  if (now < state.photo.due || !maySendPhoto(state, now)) return undefined;
  return state.photos.find((one) => one.due <= now);
}

/** When a photo is due, as far as that is known before any answer. */
export function photoDue(state: CoreState, now: number): number {
  if (!maySendPhoto(state, now)) return Infinity;
  return Math.max(state.photo.due, Math.min(Infinity, ...state.photos.map((one) => one.due)));
}

export function sendPhoto(state: CoreState, photo: Photo, effects: Effect[]): CoreState {
  const { file, held: offset } = photo;
  if (offset === undefined || photo.state === "held") effects.push({ effect: "ask_photo", file });
  else effects.push({ effect: "send_photo", file, offset, length: state.partBytes });
  return { ...state, photo: { ...state.photo, isUnderWay: true } };
}

export function photoHeard(
  state: CoreState,
  event: CoreEvent & { event: "photo_heard" },
  effects: Effect[],
): CoreState {
  const { file, held, isWhole, isSafe } = event;
  const before = state.photos.find((one) => one.file === file);
  // A part that came through may be followed by a larger one.
  const hasGrown = before?.held !== undefined && held > before.held;
  const next = {
    ...state,
    isHeard: true,
    cannotWrite: state.cannotWrite && !hasGrown,
    photo: RESTING,
    partBytes: hasGrown ? Math.min(LARGEST_PART, state.partBytes * 2) : state.partBytes,
  };
  if (isWhole && isSafe) return dropped(next, (one) => one.file === file, effects);
  // Whether a copy of the log has it is asked again when the server says that there is a newer copy.
  if (isWhole) return changed(next, file, { held, state: "held", due: Infinity });
  return changed(next, file, { held, state: "waiting", due: event.now });
}

export function photoFailed(state: CoreState, event: CoreEvent & { event: "photo_failed" }): CoreState {
  const { file, why, now } = event;
  const next = { ...state, photo: { ...state.photo, isUnderWay: false } };
  const paused = { ...next, photo: pause(next.photo, event) };
  switch (why) {
    case "not_named":
      return changed({ ...next, photo: RESTING }, file, { held: undefined, due: now + NOT_NAMED_PAUSE_MS });
    case "file_refused":
      return changed({ ...next, photo: RESTING }, file, { state: "refused", due: Infinity });
    case "broken": {
      const broken = 1 + (state.photos.find((one) => one.file === file)?.broken ?? 0);
      const isHopeless = broken >= MOST_BROKEN;
      return changed(paused, file, {
        held: undefined,
        broken,
        ...(isHopeless ? { state: "refused" as const, due: Infinity } : {}),
      });
    }
    case "too_much":
      return { ...(state.partBytes > SMALLEST_PART ? next : paused), partBytes: halved(state) };
    case "no_answer":
    case "not_ours":
      // A way station may cut what is too long without a word: less is sent, from where the server says.
      return changed({ ...paused, partBytes: halved(state), isHeard: false }, file, { held: undefined });
    case "cannot_write":
      return { ...paused, isHeard: true, cannotWrite: true };
    case "busy":
    case "session":
    case "refused":
      return { ...paused, isHeard: true };
  }
}

/**
 * What a mark says of photos: a newer verified copy of the log may have those that were only held before, and a
 * server that was put back to an older copy may lack them.
 */
export function photosBehind(before: CoreState, state: CoreState, now: number): CoreState {
  if (before.epoch !== undefined && state.epoch !== before.epoch) {
    const asked = { held: undefined, state: "waiting", due: now } as const;
    return { ...state, photos: state.photos.map((one) => ({ ...one, ...asked })) };
  }
  if (state.sending.safe <= before.sending.safe) return state;
  const photos = state.photos.map((one) => (one.state === "held" ? { ...one, due: now } : one));
  return { ...state, photos };
}

/** Where there is no room for another photo, those leave that the server holds, without a copy being waited for. */
export function roomNeeded(state: CoreState, effects: Effect[]): CoreState {
  return dropped(state, (one) => one.state === "held", effects);
}

function dropped(state: CoreState, isGone: (one: Photo) => boolean, effects: Effect[]): CoreState {
  for (const { file } of state.photos.filter(isGone)) effects.push({ effect: "drop_photo", file });
  return { ...state, photos: state.photos.filter((one) => !isGone(one)) };
}

function changed(state: CoreState, file: string, change: Partial<Photo>): CoreState {
  const photos = state.photos.map((one) => (one.file === file ? { ...one, ...change } : one));
  return { ...state, photos };
}

function halved({ partBytes }: CoreState): number {
  return Math.max(SMALLEST_PART, Math.floor(partBytes / 2));
}
