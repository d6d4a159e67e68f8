// SPDX-License-Identifier: Apache-2.0
// The Pareto of the tablet's own tally: a sort, no statistics. Everything beyond it is the server's.
import { counted, type Tally } from "./tally.js";

/** One bar; share and cumulative are fractions of all marks, and the last cumulative is exactly 1. */
export interface Bar {
  readonly name: string;
  readonly count: number;
  readonly pieces: number;
  readonly share: number;
  readonly cumulative: number;
}

/** Bars by defect word, the most first; equal counts stand in the order of their names. */
export function paretoOf(tally: Tally): readonly Bar[] {
  const marks = new Map<string, number>();
  const pieces = new Map<string, Set<string>>();
  for (const mark of counted(tally)) {
    marks.set(mark.defect, (marks.get(mark.defect) ?? 0) + 1);
    pieces.set(mark.defect, (pieces.get(mark.defect) ?? new Set()).add(mark.piece));
  }
  const sorted = [...marks].sort(
    ([leftName, left], [rightName, right]) => right - left || (leftName < rightName ? -1 : 1),
  );
  const total = sorted.reduce((sum, [, count]) => sum + count, 0);
  let soFar = 0;
  return sorted.map(([name, count]) => {
    soFar += count;
    return {
      name,
      count,
      pieces: pieces.get(name)?.size ?? 0,
      share: count / total,
      // Whole numbers are summed and divided once, so the last bar reaches 1 without a rounding error.
      cumulative: soFar / total,
    };
  });
}
