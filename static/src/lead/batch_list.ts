// SPDX-License-Identifier: Apache-2.0
// The server's list of batches, held to its shape; where each batch stands, and in which order a lead reads them.
import { integer, list, object, text, type Shape } from "../records/shape.js";

const word = text(0, 400);
const time = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
const natural = integer(0, Number.MAX_SAFE_INTEGER);
const whole = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);

const shape = open({
  as_of: time,
  pages: list(
    open({
      batch: word,
      number: word,
      part: word,
      opened_at: time,
      pieces: natural,
      released_by: word,
      late: natural,
      not_understood: natural,
      holds: natural,
      looks: list(
        open({
          look: word,
          due: whole,
          looked: whole,
          accepted: whole,
          rejected: natural,
          rework: natural,
          query: natural,
          points: natural,
          signed_by: word,
          worst: word,
        }),
      ),
    }),
  ),
});

function open(needed: Readonly<Record<string, Shape>>): Shape {
  return object({ needed }, true);
}

/** One look in numbers of pieces; `worst` is the worst state word among its limits. */
export interface LookLine {
  readonly look: string;
  readonly due: number;
  readonly looked: number;
  readonly accepted: number;
  readonly rejected: number;
  readonly rework: number;
  readonly query: number;
  readonly points: number;
  readonly signed_by: string;
  readonly worst: string;
}

export interface BatchPageLine {
  readonly batch: string;
  readonly number: string;
  readonly part: string;
  readonly opened_at: number;
  readonly pieces: number;
  readonly released_by: string;
  readonly late: number;
  readonly not_understood: number;
  readonly holds: number;
  readonly looks: readonly LookLine[];
}

export interface BatchList {
  readonly as_of: number;
  readonly pages: readonly BatchPageLine[];
}

/** The answer as a list; undefined when it is not what was asked for. */
export function batchListFrom(value: unknown): BatchList | undefined {
  return shape(value) === undefined ? (value as BatchList) : undefined;
}

/**
 * Where a batch stands: the one thing a lead has to know of it first, in the order of reading.
 *
 * over_limit   a look is above its limit, or ended there
 * came_late    records came behind a release, or are not understood
 * points_open  all due pieces of a look are looked at, and more than its signature is missing
 * in_work      pieces of a look are still to be looked at
 * not_begun    the batch is on its way to its next look: nobody has counted it in, or looked at a piece
 */
export const STANDINGS = [
  "critical",
  "held",
  "over_limit",
  "came_late",
  "points_open",
  "not_signed",
  "ready",
  "in_work",
  "not_begun",
  "released",
] as const;
export type Standing = (typeof STANDINGS)[number];

/** criticals   batches with a hold that a critical find caused */
export function standingOf(page: BatchPageLine, criticals: ReadonlySet<string>): Standing {
  if (page.holds > 0) return criticals.has(page.batch) ? "critical" : "held";
  if (page.looks.some(({ worst }) => worst === "broken" || worst === "over")) return "over_limit";
  if (page.late > 0 || page.not_understood > 0) return "came_late";
  if (page.released_by !== "") return "released";
  const present = presentLook(page);
  if (present === undefined) return page.looks.length > 0 ? "ready" : "not_begun";
  if (!isBegun(present)) return "not_begun";
  if (present.due <= 0 || present.looked < present.due) return "in_work";
  return present.points === 1 && present.signed_by === "" ? "not_signed" : "points_open";
}

/** The first look of the route that is not complete; undefined where all are. */
export function presentLook(page: BatchPageLine): LookLine | undefined {
  return page.looks.find(({ points }) => points > 0);
}

/** Looked at are the pieces of closed trays; of an open one there is what was found. */
function isBegun({ due, looked, rejected, rework, query }: LookLine): boolean {
  return due > 0 || looked > 0 || rejected + rework + query > 0;
}

export interface StandingLine {
  readonly page: BatchPageLine;
  readonly standing: Standing;
}

/** Batches in the order of reading; within one standing the list's own order, the newest first. */
export function inReadingOrder(
  pages: readonly BatchPageLine[],
  criticals: ReadonlySet<string>,
): readonly StandingLine[] {
  return pages
    .map((page) => ({ page, standing: standingOf(page, criticals) }))
    .sort((left, right) => STANDINGS.indexOf(left.standing) - STANDINGS.indexOf(right.standing));
}
