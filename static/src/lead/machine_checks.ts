// SPDX-License-Identifier: Apache-2.0
// The server's answer about the checks at the machines, held to its shape, its lines by operation and batch.
import { anything, boolean, integer, list, object, text, type Shape } from "../records/shape.js";

/** The report costs the server more than a list: it is asked for once a minute. */
export const CHECKS_ASKED_MS = 60_000;

const word = text(0, 400);
const whole = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
const about = {
  batch: word,
  number: word,
  operation: whole,
  operation_words: anything,
  characteristic: whole,
  words: anything,
  unit: word,
  lower: word,
  upper: word,
};
const said = open({
  said: word,
  outcome: word,
  mistyped: boolean,
  made: whole,
  gauge: word,
  cavity: word,
  taken_at: whole,
});
const beside = open({
  ...about,
  check: word,
  role: word,
  first: said,
  beside: list(said),
  done: list(open({ done: word, pieces_back: whole, at: whole })),
});
const shape = open({
  as_of: whole,
  from: whole,
  to: whole,
  shift: word,
  day: word,
  taken: whole,
  gaps: list(
    open({
      ...about,
      role: word,
      kind: word,
      record: word,
      checks: whole,
      pieces: whole,
      ms: whole,
      why: word,
      said: word,
      at: whole,
    }),
  ),
  repeated: list(beside),
  out: list(beside),
  worth_a_look: list(
    open({
      ...about,
      kind: word,
      part: word,
      cavity: word,
      gauges: list(word),
      value: word,
      count: whole,
      of: whole,
      chance: anything,
      since: whole,
      until: whole,
    }),
  ),
  looked_at: whole,
  too_few: whole,
  more: whole,
});

function open(needed: Readonly<Record<string, Shape>>): Shape {
  return object({ needed }, true);
}

/** What every line is about. */
export interface OfCheck {
  /** "" where a line is of several batches. */
  readonly batch: string;
  readonly number: string;
  readonly operation: number;
  readonly operation_words: Readonly<Record<string, string>>;
  /** 0 where a line is of the whole operation. */
  readonly characteristic: number;
  readonly words: Readonly<Record<string, string>>;
  readonly unit: string;
  readonly lower: string;
  readonly upper: string;
}

export interface Gap extends OfCheck {
  readonly role: string;
  readonly kind: string;
  readonly record: string;
  readonly checks: number;
  readonly pieces: number;
  readonly ms: number;
  readonly why: string;
  readonly said: string;
  readonly at: number;
}

export interface Said {
  readonly said: string;
  readonly outcome: string;
  readonly mistyped: boolean;
  /** -1 where nobody knew. */
  readonly made: number;
  readonly gauge: string;
  readonly cavity: string;
  readonly taken_at: number;
}

/** A check with those that stand beside it. */
export interface CheckSet extends OfCheck {
  readonly check: string;
  readonly role: string;
  readonly first: Said;
  readonly beside: readonly Said[];
  readonly done: readonly { readonly done: string; readonly pieces_back: number; readonly at: number }[];
}

export interface Pattern extends OfCheck {
  readonly kind: string;
  readonly part: string;
  readonly cavity: string;
  readonly gauges: readonly string[];
  readonly value: string;
  readonly count: number;
  readonly of: number;
  readonly chance: number;
  readonly since: number;
  readonly until: number;
}

export interface MachineChecks {
  readonly as_of: number;
  readonly from: number;
  readonly to: number;
  readonly shift: string;
  readonly taken: number;
  readonly gaps: readonly Gap[];
  readonly repeated: readonly CheckSet[];
  readonly out: readonly CheckSet[];
  readonly worth_a_look: readonly Pattern[];
  readonly looked_at: number;
  readonly too_few: number;
  readonly more: number;
}

/** The answer as lines; undefined when it is not what was asked for. */
export function machineChecksFrom(value: unknown): MachineChecks | undefined {
  return shape(value) === undefined ? (value as MachineChecks) : undefined;
}

/** Lines by operation and batch, in the order they came in. */
export function byPlace<Line extends OfCheck>(
  lines: readonly Line[],
): readonly (readonly [Line, ...Line[]])[] {
  const found = new Map<string, [Line, ...Line[]]>();
  for (const line of lines) {
    const place = `${line.operation} ${line.batch}`;
    const there = found.get(place);
    if (there === undefined) found.set(place, [line]);
    else there.push(line);
  }
  return [...found.values()];
}

/** One in how many, with two digits that say something: a chance is no exact number. */
export function oneIn(chance: number): number {
  const whole = Math.round(1 / Math.max(chance, 1e-9));
  const step = 10 ** Math.max(0, Math.floor(Math.log10(whole)) - 1);
  return Math.floor(whole / step) * step;
}
