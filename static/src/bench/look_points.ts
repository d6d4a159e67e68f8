// SPDX-License-Identifier: Apache-2.0
// What is still open in a look, as few sentences: what there may be many of is counted, the rest is named.
import type { Point } from "../folds/look.js";
import type { Names } from "../words/differences.js";
import { sayPoint } from "../words/points.js";
import { say, type Key } from "../words/say.js";

/** Kinds that are said as a number; the trays, pieces and holds themselves stand on other pages. */
const COUNTED = {
  tray_not_opened: "open.tray_not_opened",
  tray_not_closed: "open.tray_not_closed",
  query_open: "open.query_open",
  rework_open: "open.rework_open",
  hold: "open.hold",
  not_understood: "open.not_understood",
  closing_not_proven: "open.closing_not_proven",
} as const satisfies Record<string, Key>;

type CountedKind = keyof typeof COUNTED;

export interface OpenPoints {
  /** Sentences about the look as it stands, each kind once. */
  readonly counts: readonly string[];
  /** One sentence for each other point. */
  readonly named: readonly string[];
}

/**
 * The points as sentences.
 *
 * differences   how many of the points are differences of the ledger, which are counted as well as named
 */
export function openPoints(points: readonly Point[], differences: number, names: Names): OpenPoints {
  const counts = new Map<CountedKind, number>();
  const named: string[] = [];
  for (const point of points) {
    if (isCounted(point.kind)) counts.set(point.kind, (counts.get(point.kind) ?? 0) + 1);
    else named.push(sayPoint(point, names));
  }
  const said = (Object.keys(COUNTED) as CountedKind[]).flatMap((kind) => {
    const count = counts.get(kind) ?? 0;
    return count === 0 ? [] : [say(COUNTED[kind], { count })];
  });
  if (differences > 0) said.push(say("open.differences", { count: differences }));
  return { counts: said, named };
}

function isCounted(kind: string): kind is CountedKind {
  return Object.hasOwn(COUNTED, kind);
}
