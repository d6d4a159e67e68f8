// SPDX-License-Identifier: Apache-2.0
// A point that is open, or a difference, as a sentence: one for each kind that the folds name.
import type { Point } from "../folds/look.js";
import { DIFFERENCES, sayBy, type Names } from "./differences.js";
import type { Key } from "./say.js";

const SENTENCES = {
  ...DIFFERENCES,
  not_understood: "point.not_understood",
  hold: "point.hold",
  query_open: "point.query_open",
  rework_open: "point.rework_open",
  not_counted: "point.not_counted",
  count_not_proven: "point.count_not_proven",
  counted_by_looker: "point.counted_by_looker",
  tray_not_opened: "point.tray_not_opened",
  tray_not_closed: "point.tray_not_closed",
  closing_not_proven: "point.closing_not_proven",
  not_signed: "point.not_signed",
  signature_not_proven: "point.signature_not_proven",
  signed_before_this_came: "point.signed_before_this_came",
  same_eyes: "point.same_eyes",
  start_differs: "point.start_differs",
  between_short: "point.between_short",
  between_over: "point.between_over",
  pieces_short: "point.pieces_short",
  pieces_over: "point.pieces_over",
  still_inside: "point.still_inside",
  recounts_differ: "point.recounts_differ",
  counter_differs: "point.counter_differs",
  weighed_differs: "point.weighed_differs",
  scrap_differs: "point.scrap_differs",
  scrap_over: "point.scrap_over",
  destruction_not_seconded: "point.destruction_not_seconded",
  finishes_differ: "point.finishes_differ",
  loads_differ: "point.loads_differ",
  samples_differ: "point.samples_differ",
  components_short: "point.components_short",
  components_over: "point.components_over",
  put_aside_short: "point.put_aside_short",
  put_aside_over: "point.put_aside_over",
  judged_otherwise: "point.judged_otherwise",
  stint_not_finished: "point.stint_not_finished",
  lot_away: "point.lot_away",
} as const satisfies Record<string, Key>;

export type PointKind = keyof typeof SENTENCES;

/** Kinds that have a sentence. */
export const POINT_KINDS = Object.keys(SENTENCES) as readonly PointKind[];

export function sayPoint(point: Point, names: Names): string {
  return sayBy(SENTENCES, point, names);
}
