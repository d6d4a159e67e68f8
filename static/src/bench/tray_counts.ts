// SPDX-License-Identifier: Apache-2.0
// What the finds of one tray make of its pieces. Marks count defects, pieces count pieces.
import { counted, type Mark, type Tally, type Weight } from "../folds/tally.js";

/** A marked piece's verdict at this look; the worst of its marks decides. */
export type Verdict = "query" | "reject" | "locked";

const VERDICT: Readonly<Record<Weight, Verdict>> = {
  query: "query",
  minor: "reject",
  major: "reject",
  critical: "locked",
};
const MILD_FIRST: readonly Verdict[] = ["query", "reject", "locked"];

/** Counts of one tray. `rejected` contains the locked pieces, which are also told apart. */
export interface TrayCounts {
  readonly marks: ReadonlyMap<string, number>;
  readonly marked: number;
  readonly rejected: number;
  readonly locked: number;
  readonly query: number;
}

export function countTray(tally: Tally, tray: string): TrayCounts {
  const marks = new Map<string, number>();
  const verdicts = new Map<string, Verdict>();
  for (const mark of counted(tally)) {
    if (mark.tray !== tray) continue;
    marks.set(mark.defect, (marks.get(mark.defect) ?? 0) + 1);
    verdicts.set(mark.piece, worse(verdicts.get(mark.piece), VERDICT[mark.weight]));
  }
  const of = (verdict: Verdict): number => [...verdicts.values()].filter((one) => one === verdict).length;
  return {
    marks,
    marked: verdicts.size,
    rejected: of("reject") + of("locked"),
    locked: of("locked"),
    query: of("query"),
  };
}

/** The second taps of this tray that nobody has yet said to be one find or two. */
export function openRepeats(tally: Tally, tray: string, answered: ReadonlySet<string>): readonly Mark[] {
  return tally.marks.filter((mark) => mark.tray === tray && mark.quick_repeat && !answered.has(mark.id));
}

export type Closing =
  | { readonly fits: true; readonly accepted: number; readonly rejected: number; readonly query: number }
  | { readonly fits: false };

/** The numbers a closing states, or that they cannot be: more empty and marked than the tray has places. */
export function closingOf(counts: TrayCounts, places: number, empty: number): Closing {
  const accepted = places - empty - counts.marked;
  if (accepted < 0) return { fits: false };
  return { fits: true, accepted, rejected: counts.rejected, query: counts.query };
}

function worse(left: Verdict | undefined, right: Verdict): Verdict {
  if (left === undefined) return right;
  return MILD_FIRST.indexOf(left) > MILD_FIRST.indexOf(right) ? left : right;
}
