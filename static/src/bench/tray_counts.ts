// SPDX-License-Identifier: Apache-2.0
// What the finds and judgements of one tray make of its pieces. Marks count defects, pieces count pieces.
import type { BenchState } from "../folds/bench.js";
import { counted, type Mark, type Tally } from "../folds/tally.js";
import type { Verdict } from "../folds/verdicts.js";
import type { ReadRecord } from "../records/kinds.js";

/**
 * Counts of one tray.
 *
 * marked    pieces that bear a mark, whatever was said of them
 * accepted  those of them that stay in the tray
 * rejected  contains the locked pieces, which are also told apart
 */
export interface TrayCounts {
  readonly marks: ReadonlyMap<string, number>;
  readonly marked: number;
  readonly accepted: number;
  readonly rejected: number;
  readonly locked: number;
  readonly rework: number;
  readonly query: number;
}

export function countTray(
  { tally, verdicts }: Pick<BenchState, "tally" | "verdicts">,
  tray: string,
): TrayCounts {
  const marks = new Map<string, number>();
  for (const mark of counted(tally))
    if (mark.tray === tray) marks.set(mark.defect, (marks.get(mark.defect) ?? 0) + 1);
  const here = verdicts.filter((one) => one.tray === tray);
  const of = (verdict: Verdict): number => here.filter((one) => one.verdict === verdict).length;
  return {
    marks,
    marked: here.length,
    accepted: of("accept"),
    rejected: of("reject") + of("locked"),
    locked: of("locked"),
    rework: of("rework"),
    query: of("query"),
  };
}

/** Pieces that were taken out of the tray. */
export function takenOut({ rejected, rework, query }: TrayCounts): number {
  return rejected + rework + query;
}

/** What the card says is due in the tray; its places where nobody counted the look in. */
export function dueIn(
  { ledger }: Pick<BenchState, "ledger">,
  look: string,
  number: number,
  places: number,
): number {
  const page = ledger.looks.find((one) => one.look === look);
  const card = page?.trays.find((one) => one.number === number)?.due ?? 0;
  return card === 0 ? places : card;
}

/**
 * Whether a hold stands that was caused in this tray: then its good pieces stay together. A find that was taken
 * back leaves its hold, so the cause is looked up among the records and not among the marks.
 */
export function isKeptTogether(
  { holds }: Pick<BenchState, "holds">,
  records: ReadonlyMap<string, ReadRecord>,
  tray: string,
): boolean {
  return holds.holds.some(({ id, lifted_by }) => {
    const cause = records.get(id)?.known;
    const isHere =
      (cause?.kind === "defect_tallied" || cause?.kind === "hold_placed") && cause.body.tray === tray;
    return isHere && lifted_by === "";
  });
}

/** The second taps of this tray that nobody has yet said to be one find or two. */
export function openRepeats(tally: Tally, tray: string, answered: ReadonlySet<string>): readonly Mark[] {
  return tally.marks.filter((mark) => mark.tray === tray && mark.quick_repeat && !answered.has(mark.id));
}

export type Closing = { readonly fits: true; readonly accepted: number } | { readonly fits: false };

/** How many pieces a closing states as accepted, or that it cannot be: the tray has too few places. */
export function closingOf(counts: TrayCounts, places: number, empty: number): Closing {
  const accepted = places - empty - takenOut(counts);
  return accepted < counts.accepted ? { fits: false } : { fits: true, accepted };
}
