// SPDX-License-Identifier: Apache-2.0
// How many pieces a bar gives: pieces_per_bar of the server's computation/material.py, on the numbers as they were
// typed. A help at the saw; it is never filled in as if somebody had counted.
import { billionths } from "../records/decimal.js";

export interface BarCut {
  readonly pieces: number;
  /** What is left: the rest and the last cut. */
  readonly leftMm: number;
}

/** floor((bar + kerf) / (piece + kerf)), not below 0: the last piece needs no cut. All in millimetres. */
export function piecesPerBar(bar: string, piece: string, kerf: string): BarCut {
  const [length, each, cut] = [billionths(bar), billionths(piece), billionths(kerf)];
  const pieces = length + cut < each + cut ? 0n : (length + cut) / (each + cut);
  const used = pieces * each + (pieces > 0n ? pieces - 1n : 0n) * cut;
  return { pieces: Number(pieces), leftMm: Number(length - used) / 1e9 };
}

/** Share of the metal issued that becomes pieces: of one section it goes by length. */
export function recovery(pieces: number, piece: string, bars: number, bar: string): number {
  return (pieces * Number(piece)) / (bars * Number(bar));
}
