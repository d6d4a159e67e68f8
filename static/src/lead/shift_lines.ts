// SPDX-License-Identifier: Apache-2.0
// The server's lines of the shift of now, held to their shape; and which batches and holds stand under which heading.
import { integer, list, object, text, type Shape } from "../records/shape.js";
import { standingOf, type BatchPageLine, type Standing, type StandingLine } from "./batch_list.js";
import type { HoldLine } from "./holds_list.js";

const word = text(0, 400);
const time = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
const shape = open({
  as_of: time,
  from: time,
  to: time,
  shift: word,
  day: word,
  differences: list(
    open({ batch: word, number: word, look: word, kind: word, subject: word, amount: time, tray: time }),
  ),
  not_heard: list(open({ device: word, letters: word, name: word, heard_at: time })),
  wrong_pins: list(open({ person: word, device: word, letters: word, name: word })),
});

function open(needed: Readonly<Record<string, Shape>>): Shape {
  return object({ needed }, true);
}

/** A count that differs; `tray` is the number of a tray the subject names by its id, or 0. */
export interface OpenDifference {
  readonly batch: string;
  readonly number: string;
  readonly look: string;
  readonly kind: string;
  readonly subject: string;
  readonly amount: number;
  readonly tray: number;
}

export interface NotHeard {
  readonly device: string;
  readonly letters: string;
  readonly name: string;
  readonly heard_at: number;
}

/** A person, by name, at a tablet at which no further PIN of this person is looked at. */
export interface WrongPins {
  readonly person: string;
  readonly device: string;
  readonly letters: string;
  readonly name: string;
}

export interface ShiftLines {
  readonly as_of: number;
  readonly from: number;
  readonly to: number;
  readonly shift: string;
  readonly day: string;
  readonly differences: readonly OpenDifference[];
  readonly not_heard: readonly NotHeard[];
  readonly wrong_pins: readonly WrongPins[];
}

/** The answer as lines; undefined when it is not what was asked for. */
export function shiftFrom(value: unknown): ShiftLines | undefined {
  return shape(value) === undefined ? (value as ShiftLines) : undefined;
}

export interface SortedHolds {
  readonly critical: readonly HoldLine[];
  /** Pieces that turned up late. */
  readonly late: readonly HoldLine[];
  readonly other: readonly HoldLine[];
}

/** Each hold under one heading, the one that stands longest first. */
export function sortedHolds(holds: readonly HoldLine[]): SortedHolds {
  const of = (wanted: (cause: string) => boolean): readonly HoldLine[] =>
    holds.filter(({ cause }) => wanted(cause)).sort((left, right) => left.at - right.at);
  return {
    critical: of((cause) => cause === "critical"),
    late: of((cause) => cause === "found"),
    other: of((cause) => cause !== "critical" && cause !== "found"),
  };
}

/** Standings in which a batch waits for somebody's decision or name, and nothing else has said so above. */
const WAITING: readonly Standing[] = ["over_limit", "points_open", "not_signed", "ready"];

export interface SortedBatches {
  readonly waiting: readonly StandingLine[];
  readonly late: readonly BatchPageLine[];
}

/** A batch on hold stands among the holds; one with records behind its release, among what came late. */
export function sortedBatches(pages: readonly BatchPageLine[]): SortedBatches {
  const lines = pages.map((page) => ({ page, standing: standingOf(page, new Set()) }));
  const waiting = lines.filter(({ standing }) => WAITING.includes(standing));
  return {
    waiting: waiting.sort(
      (left, right) =>
        WAITING.indexOf(left.standing) - WAITING.indexOf(right.standing) ||
        left.page.opened_at - right.page.opened_at,
    ),
    late: pages.filter((page) => page.late > 0),
  };
}
