// SPDX-License-Identifier: Apache-2.0
// A short tone and a nudge per class, as extras to what is seen: nothing relies on them in a noisy hall.
import type { Weight } from "../folds/tally.js";

/** Pitches one after another [Hz]; a critical find is the only one that goes down and lasts. */
const TONES: Readonly<Record<Weight, readonly number[]>> = {
  minor: [880],
  major: [660, 880],
  critical: [660, 520, 390],
  query: [740],
};
const NOTE_S = 0.07;
const LOUDNESS = 0.2;

let context: AudioContext | undefined;

export function soundOf(weight: Weight): void {
  try {
    if (typeof navigator.vibrate === "function") navigator.vibrate(weight === "critical" ? [40, 30, 40] : 20);
    context ??= new AudioContext();
    const start = context.currentTime;
    TONES[weight].forEach((pitch, place) => play(pitch, start + place * NOTE_S));
  } catch {
    // No sound on this device: the flash and the words have said it already.
  }
}

function play(pitch: number, at: number): void {
  if (context === undefined) return;
  const tone = context.createOscillator();
  const volume = context.createGain();
  tone.frequency.value = pitch;
  volume.gain.setValueAtTime(LOUDNESS, at);
  volume.gain.exponentialRampToValueAtTime(0.001, at + NOTE_S);
  tone.connect(volume).connect(context.destination);
  tone.start(at);
  tone.stop(at + NOTE_S);
}
