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
/** What a ramp that falls by ratios can fall to. */
const SILENCE = 0.001;

/** One voice for all tones: a node for each tone would be kept for ever where the device's sound stands still. */
interface Voice {
  readonly context: AudioContext;
  readonly pitch: AudioParam;
  readonly loudness: AudioParam;
}

let voice: Voice | undefined;

export function soundOf(weight: Weight): void {
  try {
    if (typeof navigator.vibrate === "function") navigator.vibrate(weight === "critical" ? [40, 30, 40] : 20);
    voice ??= newVoice();
    const { context, pitch, loudness } = voice;
    const start = context.currentTime;
    pitch.cancelScheduledValues(start);
    loudness.cancelScheduledValues(start);
    TONES[weight].forEach((tone, place) => {
      const at = start + place * NOTE_S;
      pitch.setValueAtTime(tone, at);
      loudness.setValueAtTime(LOUDNESS, at);
      loudness.exponentialRampToValueAtTime(SILENCE, at + NOTE_S);
    });
    loudness.setValueAtTime(0, start + TONES[weight].length * NOTE_S);
  } catch {
    // No sound on this device: the flash and the words have said it already.
  }
}

function newVoice(): Voice {
  const context = new AudioContext();
  const tone = context.createOscillator();
  const volume = context.createGain();
  volume.gain.value = 0;
  tone.connect(volume).connect(context.destination);
  tone.start();
  return { context, pitch: tone.frequency, loudness: volume.gain };
}
