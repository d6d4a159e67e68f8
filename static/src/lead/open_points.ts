// SPDX-License-Identifier: Apache-2.0
// The open points of a batch's page: said once where they are the batch's own, and what an acceptance would name.
import type { Difference } from "../folds/ledger.js";
import type { Point } from "../folds/look.js";
import type { BatchAnswer } from "./batch_answer.js";

/**
 * acceptance   the look an acceptance of it names, '' for a difference of the batch; left out where the point is
 *              no count that somebody can accept, but work that is still to be done
 */
export interface OpenPoint {
  readonly point: Point;
  readonly acceptance?: string;
}

export interface OpenPoints {
  readonly ofBatch: readonly OpenPoint[];
  readonly ofLooks: ReadonlyMap<string, readonly OpenPoint[]>;
}

export function openPoints({
  looks,
  ledger,
}: {
  readonly looks: BatchAnswer["looks"];
  readonly ledger: Pick<BatchAnswer["ledger"], "differences" | "points">;
}): OpenPoints {
  const inEvery = (point: Point): boolean => looks.every((look) => look.points.some(isSame(point)));
  const isOfBatch = (point: Point, acceptance: string | undefined): boolean =>
    point.kind === "not_understood" ||
    acceptance === "" ||
    // A hold that names no look stands in the way of each of them.
    (point.kind === "hold" && looks.length > 1 && inEvery(point));
  const ofBatch: OpenPoint[] = [];
  const ofLooks = new Map<string, readonly OpenPoint[]>();
  for (const { look, points } of looks) {
    const own: OpenPoint[] = [];
    for (const point of points) {
      const acceptance = acceptanceOf(point, look, ledger.differences);
      const open = acceptance === undefined ? { point } : { point, acceptance };
      if (!isOfBatch(point, acceptance)) own.push(open);
      else if (!ofBatch.some((other) => isSame(point)(other.point))) ofBatch.push(open);
    }
    ofLooks.set(look, own);
  }
  // What the route has open stands in no look.
  for (const { look, accepted_by, kind, subject, amount } of ledger.differences) {
    const point = { kind, subject, amount };
    const isSaid = ofBatch.some((other) => isSame(point)(other.point));
    if (look === "" && accepted_by === "" && !isSaid) ofBatch.push({ point, acceptance: "" });
  }
  for (const point of ledger.points) ofBatch.push({ point });
  return { ofBatch, ofLooks };
}

function isSame(one: Point): (other: Point) => boolean {
  return ({ kind, subject, amount }) => kind === one.kind && subject === one.subject && amount === one.amount;
}

/** Differences of the ledger, and eyes that came back, are accepted; all else is to be done. */
function acceptanceOf(point: Point, look: string, differences: readonly Difference[]): string | undefined {
  if (point.kind === "same_eyes") return look;
  return differences.find(
    (line) => line.accepted_by === "" && (line.look === "" || line.look === look) && isSame(point)(line),
  )?.look;
}
