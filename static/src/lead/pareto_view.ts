// SPDX-License-Identifier: Apache-2.0
// What the Pareto shows, from the server's answer or from the tablet's own records.
import { paretoOf, type Bar as OwnBar } from "../folds/pareto.js";
import { Gathered } from "../folds/gathered.js";
import { counted, foldTally, type Mark } from "../folds/tally.js";
import type { PartDefinition, ReadRecord } from "../records/kinds.js";
import { boolean, integer, list, object, oneOf, text } from "../records/shape.js";
import type { Sort } from "./pareto_question.js";
import type { Span } from "./spans.js";

export interface Bar extends OwnBar {
  readonly sort: Sort;
  /** What the server calls it; of a batch its number. */
  readonly label: string;
  /** Pieces looked at that can stand in the bar, where it is one of trays; else 0. */
  readonly looked: number;
  /** The bar below may as well be the longer one. The tablet's own sort does not know. */
  readonly too_few_to_rank: boolean;
}

export interface ParetoView {
  readonly bars: readonly Bar[];
  readonly marks: number;
  readonly pieces: number;
  /** In the trays that were closed in the span; 0 where that is not known. */
  readonly looked: number;
  /** Marks in no bar: made in the span or beside it. */
  readonly perhaps: number;
  /** Marks in no bar: nothing is recorded of when they were made. */
  readonly unplaced: number;
  readonly span: Span;
  readonly source: "server" | "tablet";
}

const natural = integer(0, Number.MAX_SAFE_INTEGER);
const fraction = (value: unknown): string | undefined =>
  typeof value === "number" && value >= 0 && value <= 1 ? undefined : "is no fraction";
const barShape = object(
  {
    needed: {
      name: text(0, 400),
      sort: oneOf("value", "either", "none"),
      label: text(0, 400),
      count: natural,
      pieces: natural,
      looked: natural,
      share: fraction,
      cumulative: fraction,
      too_few_to_rank: boolean,
    },
  },
  true,
);
const answerShape = object(
  {
    needed: {
      from: natural,
      to: natural,
      shift: text(0, 200),
      marks: natural,
      pieces: natural,
      looked: natural,
      perhaps: natural,
      unplaced: natural,
      bars: list(barShape),
    },
  },
  true,
);

interface Answer extends Omit<ParetoView, "span" | "source">, Span {}

/** The server's answer as a view; undefined when there is none, or it is not what was asked for. */
export function fromServer(value: unknown): ParetoView | undefined {
  if (answerShape(value) !== undefined) return undefined;
  const { from, to, shift, ...answer } = value as Answer;
  return { ...answer, span: { from, to, shift }, source: "server" };
}

/** The defects that this tablet knows of by itself: a sort of its own tally. */
export function fromTablet(
  records: readonly ReadRecord[],
  definitions: ReadonlyMap<string, PartDefinition>,
  span: Span,
  authors: ReadonlyMap<string, string> = new Map(),
): ParetoView {
  const marks: Mark[] = [];
  for (const ofBatch of byBatch(records)) {
    const tally = foldTally(new Gathered(ofBatch, authors), definitions);
    marks.push(...counted(tally).filter((mark) => mark.found_at >= span.from && mark.found_at < span.to));
  }
  return {
    bars: paretoOf({ marks, trays: [], useless_withdrawals: [], not_understood: [] }).map((bar) => ({
      ...bar,
      sort: "value",
      label: bar.name,
      looked: 0,
      too_few_to_rank: false,
    })),
    marks: marks.length,
    pieces: new Set(marks.map((mark) => mark.piece)).size,
    looked: 0,
    perhaps: 0,
    unplaced: 0,
    span,
    source: "tablet",
  };
}

/** The bars by pieces: sorted anew, each share of the sum of the bars, the last one exactly the whole. */
export function byPieces(bars: readonly Bar[]): readonly Bar[] {
  const total = bars.reduce((sum, bar) => sum + bar.pieces, 0);
  let soFar = 0;
  return [...bars]
    .sort((left, right) => right.pieces - left.pieces || (left.name < right.name ? -1 : 1))
    .map((bar) => {
      soFar += bar.pieces;
      return { ...bar, share: bar.pieces / total, cumulative: soFar / total };
    });
}

function byBatch(records: readonly ReadRecord[]): Iterable<readonly ReadRecord[]> {
  const batches = new Map<string, ReadRecord[]>();
  for (const record of records) {
    if (record.batch === undefined) continue;
    const ofBatch = batches.get(record.batch) ?? [];
    ofBatch.push(record);
    batches.set(record.batch, ofBatch);
  }
  return batches.values();
}
