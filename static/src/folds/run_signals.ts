// SPDX-License-Identifier: Apache-2.0
// Whether the last values of one stream say that something is not as it was, for the tablet without contact.
//
// Rules 1 and 2 of the server's computation/run_rules.py, and the limits of its individuals_chart; both are held to
// the same tables under tests/published. All eight rules would signal on one good chart in four.

/** Width of a moving range of two, in standard deviations: 2 / sqrt(pi). */
const D2_OF_TWO = 2 / Math.sqrt(Math.PI);
/** A value written with few decimals may miss a line that it lies on by rounding alone. */
const ON_THE_LINE = 1e-9;
const NINE = 9;

export interface Individuals {
  readonly centre: number;
  readonly sigma: number;
}

/** Mean and standard deviation of single values, the latter from the differences of neighbours. */
export function individualsOf(values: readonly number[]): Individuals {
  const centre = values.reduce((sum, value) => sum + value, 0) / values.length;
  const ranges = values.slice(1).map((value, place) => Math.abs(value - (values[place] ?? value)));
  return { centre, sigma: ranges.reduce((sum, range) => sum + range, 0) / ranges.length / D2_OF_TWO };
}

export interface RunSignals {
  /** 1: beyond three standard deviations. */
  readonly beyond: readonly number[];
  /** 2: nine in a row on one side of the middle. */
  readonly oneSide: readonly number[];
}

/** The points that complete a pattern, the first being 1; without a spread nothing can be said. */
export function runSignals(values: readonly number[], { centre, sigma }: Individuals): RunSignals {
  const beyond: number[] = [];
  const oneSide: number[] = [];
  let side = 0;
  let run = 0;
  if (!(sigma > 0)) return { beyond, oneSide };
  values.forEach((value, place) => {
    const z = (value - centre) / sigma;
    if (Math.abs(z) > 3 + ON_THE_LINE) beyond.push(place + 1);
    const here = Math.abs(z) <= ON_THE_LINE ? 0 : Math.sign(z);
    run = here !== 0 && here === side ? run + 1 : Math.abs(here);
    side = here;
    if (run >= NINE) oneSide.push(place + 1);
  });
  return { beyond, oneSide };
}
