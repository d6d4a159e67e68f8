// SPDX-License-Identifier: Apache-2.0
// The server's page of one batch, held to its shape.
import type { Coverage } from "../folds/coverage.js";
import type { Ledger } from "../folds/ledger.js";
import type { LimitLine } from "../folds/limits.js";
import type { Look, Point } from "../folds/look.js";
import type { PieceVerdict } from "../folds/verdicts.js";
import { anything, boolean, dictionary, integer, list, object, text, type Shape } from "../records/shape.js";

const word = text(0, 400);
const time = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
const natural = integer(0, Number.MAX_SAFE_INTEGER);
const whole = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
const fraction: Shape = (value) =>
  typeof value === "number" && value >= 0 && value <= 1 ? undefined : "is no fraction";

const point = { kind: word, subject: word, amount: whole };
const opening = open({ tray: word, chain: word, opened_at: time, is_closed: boolean, looked: whole });
const lookCount = open({
  look: word,
  counted_by: word,
  operation: natural,
  counted: natural,
  taken: natural,
  due: whole,
  looked: whole,
  accepted: whole,
  rejected: natural,
  rework: natural,
  query: natural,
  sent: natural,
  returned: natural,
  trays: list(open({ number: natural, due: natural, looked: whole, openings: list(opening) })),
});
const limit = object(
  {
    needed: {
      look: word,
      class: word,
      allowed_per_thousand: natural,
      defective: natural,
      with_queries: natural,
      marked: natural,
      looked: whole,
      due: whole,
      trays_closed: natural,
      state: word,
      state_with_queries: word,
    },
    optional: { allowed: natural, chance_over: fraction, rate: fraction, lower: fraction, upper: fraction },
  },
  true,
);
const verdict = open({
  look: word,
  piece: word,
  tray: word,
  verdict: word,
  main_defect: word,
  worst: word,
  differ: list(word),
});
const share = open({ other: word, pieces: whole, certain: whole, possible: whole, never: whole });
const step = open({
  operation: natural,
  look: word,
  is_look: boolean,
  in: whole,
  out: whole,
  scrap: whole,
  set_up: whole,
  samples: whole,
  missing: whole,
});
const shape = open({
  batch: word,
  number: word,
  part: word,
  definition: word,
  opened_at: time,
  pieces: natural,
  released_by: word,
  late: list(word),
  not_understood: list(word),
  can_be_released: boolean,
  casts: list(open({ receipt: word, cast: word, name: text(0, 402), state: word, bars: natural })),
  ledger: open({
    opened: whole,
    taken: whole,
    left: whole,
    looks: list(lookCount),
    differences: list(open({ ...point, look: word, accepted_by: word })),
    whole: open({
      in: whole,
      good: whole,
      scrap: whole,
      samples_and_set_up: whole,
      missing: whole,
      taken: whole,
      closes: boolean,
      steps: list(step),
    }),
    points: list(open(point)),
  }),
  looks: list(open({ look: word, points: list(open(point)), signed_by: word, independence: list(share) })),
  limits: list(limit),
  coverage: list(open({ family: word, zone: word, looks: list(word), unknown: list(word) })),
  verdicts: list(verdict),
  requests: list(
    open({
      id: word,
      kind: word,
      state: word,
      reasons: list(word),
      seconded_by: list(word),
      asked_at: time,
      person: word,
    }),
  ),
  seen: list(open({ chain: word, n: natural })),
  names: dictionary(/./, word),
  tags: dictionary(/./, word),
  trays: dictionary(/./, open({ number: natural, tablet: anything, opened_at: time })),
});

function open(needed: Readonly<Record<string, Shape>>): Shape {
  return object({ needed }, true);
}

/** A look as the page has it; whose eyes saw how much is asked for by itself, at the bench. */
export type LookShown = Omit<Look, "eyes">;

/** One step of the whole ledger: an operation, a look, or what a look put aside. */
export interface LedgerStep {
  readonly operation: number;
  readonly look: string;
  readonly is_look: boolean;
  readonly in: number;
  readonly out: number;
  readonly scrap: number;
  readonly set_up: number;
  readonly samples: number;
  readonly missing: number;
}

/** in = good + scrap + samples and set-up + missing + taken. */
export interface WholeLedger {
  readonly in: number;
  readonly good: number;
  readonly scrap: number;
  readonly samples_and_set_up: number;
  readonly missing: number;
  readonly taken: number;
  readonly closes: boolean;
  readonly steps: readonly LedgerStep[];
}

/** The ledger with the lines of the batch's route, whose open points no look has. */
export interface LedgerShown extends Ledger {
  readonly whole: WholeLedger;
  readonly points: readonly Point[];
}

/** The numbers behind the state are left out while the batch is not counted in. */
export interface LimitNumbers extends LimitLine {
  readonly allowed?: number;
  readonly chance_over?: number;
  readonly rate?: number;
  readonly lower?: number;
  readonly upper?: number;
}

export interface BatchRequest {
  readonly id: string;
  readonly kind: string;
  readonly state: string;
  readonly reasons: readonly string[];
  readonly seconded_by: readonly string[];
  readonly asked_at: number;
  readonly person: string;
}

export interface TrayCalled {
  readonly number: number;
  readonly tablet: string;
  readonly opened_at: number;
}

/** A receipt the batch is made of; `cast` is empty where the server does not have it. */
export interface CastLine {
  readonly receipt: string;
  readonly cast: string;
  readonly name: string;
  readonly state: string;
  readonly bars: number;
}

export interface BatchAnswer {
  readonly batch: string;
  readonly number: string;
  readonly part: string;
  readonly definition: string;
  readonly opened_at: number;
  readonly pieces: number;
  readonly released_by: string;
  readonly late: readonly string[];
  readonly not_understood: readonly string[];
  readonly can_be_released: boolean;
  readonly casts: readonly CastLine[];
  readonly ledger: LedgerShown;
  readonly looks: readonly LookShown[];
  readonly limits: readonly LimitNumbers[];
  readonly coverage: readonly Coverage[];
  readonly verdicts: readonly PieceVerdict[];
  readonly requests: readonly BatchRequest[];
  readonly seen: readonly { readonly chain: string; readonly n: number }[];
  readonly names: Readonly<Record<string, string>>;
  readonly tags: Readonly<Record<string, string>>;
  readonly trays: Readonly<Record<string, TrayCalled>>;
}

/** The answer as a page; undefined when it is not what was asked for. */
export function batchFrom(value: unknown): BatchAnswer | undefined {
  return shape(value) === undefined ? (value as BatchAnswer) : undefined;
}
