// SPDX-License-Identifier: Apache-2.0
// Pieces by weight. The server's computation/material.py has the same method, pieces_from_mass, with its source.

/** Pieces counted by mass, the standard deviation of the count, and the chance that it is wrong by a piece. */
export interface WeighCount {
  readonly pieces: number;
  readonly sd: number;
  readonly chanceWrong: number;
}

/**
 * Pieces of a net mass.
 *
 * net, reference  mass of the pieces, and of those counted by hand, at least 0 and above 0   [g]
 * counted         pieces counted by hand                                                      [pieces]
 * cv              standard deviation of the mass of a piece / its mean                        [1]
 */
export function piecesFromMass(net: number, reference: number, counted: number, cv: number): WeighCount {
  const pieces = halfEven((net * counted) / reference);
  const sd = cv * Math.sqrt(pieces + pieces ** 2 / counted);
  return { pieces, sd, chanceWrong: sd === 0 ? 0 : erfc(0.5 / sd / Math.SQRT2) };
}

/** Halves go to the even neighbour, as they do on the server. */
function halfEven(value: number): number {
  const low = Math.floor(value);
  if (value - low !== 0.5) return Math.round(value);
  return low % 2 === 0 ? low : low + 1;
}

/** The complementary error function for x >= 0: its series below 2.5 and its continued fraction above. */
export function erfc(x: number): number {
  const scale = Math.exp(-x * x) / Math.sqrt(Math.PI);
  if (x < 2.5) {
    let term = x;
    let sum = x;
    for (let n = 1; term > sum * 1e-17; n += 1) {
      term *= (2 * x * x) / (2 * n + 1);
      sum += term;
    }
    return 1 - 2 * scale * sum;
  }
  let fraction = x;
  for (let n = 60; n > 0; n -= 1) fraction = x + n / 2 / fraction;
  return scale / fraction;
}
