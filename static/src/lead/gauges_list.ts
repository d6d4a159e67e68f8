// SPDX-License-Identifier: Apache-2.0
// The server's list of gauges, held to its shape.
import { boolean, integer, list, object, text, type Shape } from "../records/shape.js";

const word = text(0, 400);
const whole = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
const shape = open({
  as_of: whole,
  gauges: list(
    open({
      number: word,
      kinds: list(word),
      range: word,
      resolution: word,
      place: word,
      standing: word,
      stands_now: word,
      due: word,
      said: list(
        open({
          id: word,
          result: word,
          against: word,
          certificate: word,
          next_due: word,
          note: word,
          at: whole,
          by: word,
          counts: boolean,
        }),
      ),
      batches: list(
        open({
          batch: word,
          number: word,
          standing: word,
          released: boolean,
          values: whole,
          first_at: whole,
          last_at: whole,
        }),
      ),
    }),
  ),
});

function open(needed: Readonly<Record<string, Shape>>): Shape {
  return object({ needed }, true);
}

/** What somebody said of a gauge; a good word that does not count, and what was taken back, say so. */
export interface GaugeSaid {
  readonly id: string;
  readonly result: string;
  readonly against: string;
  readonly certificate: string;
  readonly next_due: string;
  readonly note: string;
  readonly at: number;
  readonly by: string;
  readonly counts: boolean;
}

/** Values of a batch that were taken while the gauge stood so. */
export interface GaugeUsed {
  readonly batch: string;
  readonly number: string;
  readonly standing: string;
  readonly released: boolean;
  readonly values: number;
  readonly first_at: number;
  readonly last_at: number;
}

/** One gauge; `standing` is the worst of how it stands now and of the values in doubt by it. */
export interface GaugeShown {
  readonly number: string;
  readonly kinds: readonly string[];
  readonly range: string;
  readonly resolution: string;
  readonly place: string;
  readonly standing: string;
  readonly stands_now: string;
  readonly due: string;
  readonly said: readonly GaugeSaid[];
  readonly batches: readonly GaugeUsed[];
}

/** The answer as a list; undefined when it is not what was asked for. */
export function gaugesFrom(value: unknown): readonly GaugeShown[] | undefined {
  return shape(value) === undefined ? (value as { gauges: readonly GaugeShown[] }).gauges : undefined;
}
