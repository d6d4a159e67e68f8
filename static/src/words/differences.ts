// SPDX-License-Identifier: Apache-2.0
// A difference of a look's ledger as a sentence, where a tablet tallies; points.ts has the other points.
import type { Point } from "../folds/look.js";
import { say, type Key } from "./say.js";

export const DIFFERENCES = {
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
} as const satisfies Record<string, Key>;

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
function signOf(amount: number): "over" | "short" | "even" {
  return amount === 0 ? "even" : amount > 0 ? "over" : "short";
}

export function sayDifference(line: Point, names: Names): string {
  return sayBy(DIFFERENCES, line, names);
}

/** The sentence that a list has for a kind. */
export function sayBy(
  sentences: Readonly<Record<string, Key>>,
  { kind, subject, amount }: Point,
  names: Names,
): string {
  const key = Object.hasOwn(sentences, kind) ? sentences[kind] : undefined;
  if (key === undefined) return say("point.other", { kind, amount });
  const [at, ...of] = subject.split(" ");
  return say(key, {
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
