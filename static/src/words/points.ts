// SPDX-License-Identifier: Apache-2.0
// A point that is open, or a difference, as a sentence: one for each kind that the folds name.
import type { Point } from "../folds/look.js";
import { say, type Key } from "./say.js";

const SENTENCES = {
  split_too_much: "point.split_too_much",
  pieces_found: "point.pieces_found",
  counts_differ: "point.counts_differ",
  cards_do_not_add_up: "point.cards_do_not_add_up",
  foreign_pieces: "point.foreign_pieces",
  tray_not_due: "point.tray_not_due",
  tray_twice: "point.tray_twice",
  tray_short: "point.tray_short",
  tray_over: "point.tray_over",
  closing_does_not_add_up: "point.closing_does_not_add_up",
  closings_differ: "point.closings_differ",
  more_marked_than_looked_at: "point.more_marked_than_looked_at",
  return_without_sending: "point.return_without_sending",
  rework_away: "point.rework_away",
  rework_over: "point.rework_over",
  rework_not_sent: "point.rework_not_sent",
  rework_not_judged: "point.rework_not_judged",
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

/** What the ids in a point are called; an id that is not known here is called by itself. */
export interface Names {
  /** A tray's number. */
  readonly tray: (id: string) => string;
  /** A person's name. */
  readonly person: (id: string) => string;
  /** A piece's tag. */
  readonly tag: (id: string) => string;
}

/** How many more or fewer; the sign chooses the words, so that nobody reads a minus wrongly. */
export function signOf(amount: number): "over" | "short" | "even" {
  return amount === 0 ? "even" : amount > 0 ? "over" : "short";
}

export function sayPoint({ kind, subject, amount }: Point, names: Names): string {
  if (!isPointKind(kind)) return say("point.other", { kind, amount });
  const [at, ...of] = subject.split(" ");
  return say(SENTENCES[kind], {
    amount: Math.abs(amount),
    sign: signOf(amount),
    // A difference names a tray by the number on its card, or by the record that opened it.
    tray: subject.includes(":") ? names.tray(subject) : subject,
    person: names.person(subject),
    tag: names.tag(subject),
    // A difference of the route names its operation, and behind it what it is about there.
    at: at ?? "",
    of: of.join(" "),
  });
}

function isPointKind(kind: string): kind is PointKind {
  return Object.hasOwn(SENTENCES, kind);
}
