// SPDX-License-Identifier: Apache-2.0
// The checks of one batch: what was taken, what is due next, and how many pieces were made since the last good one.
//
// The server's folds/checks.py is the same function; tests/vectors/checks holds both to the same answers. No clock
// is read here: what is due by minutes, and whether the count of pieces is too old to go by, is asked of a moment.
import type { CheckRole, PartDefinition, ReadRecord, RecordOf } from "../records/kinds.js";
import { dueChecks, type Due, type Moment } from "./check_due.js";
import { characteristicsOf, keyOf, outcomeOf, type Known, type Outcome } from "./check_outcome.js";
import { byId, foundAt, withdrawn } from "./gathered.js";

/** After so long without a number nobody knows how many were made, and the tool asks. */
export const LONGEST_WITHOUT_NUMBER_MS = 30 * 60 * 1000;
export type Made = number | "unknown";

/**
 * One check that stands; an option not given is ''.
 *
 * said          the value as the gauge showed it, or the answer
 * root          the check it stands beside at last; its own id where it repeats none
 * mistyped      a later check says that this one was a typing error
 * taken_at      server time                                                    [ms]
 */
export interface Check {
  readonly id: string;
  readonly operation: number;
  readonly characteristic: number;
  readonly role: CheckRole;
  readonly said: string;
  readonly outcome: Outcome;
  readonly root: string;
  readonly mistyped: boolean;
  readonly made: Made;
  readonly gauge: string;
  readonly taken_at: number;
}

/**
 * A characteristic: its last good check, and the pieces made since.
 *
 * last_good  the first check of a set of repeats that are all good; '' where none was
 * pieces     since then, or since the start; 'unknown' where nobody said how many were made
 */
export interface Exposure {
  readonly operation: number;
  readonly characteristic: number;
  readonly last_good: string;
  readonly pieces: Made;
}

/**
 * How many pieces an operation has made, as far as somebody said so.
 *
 * told_at  when that was said last, or when the stint began; server time       [ms]
 */
export interface OperationPieces {
  readonly operation: number;
  readonly made: Made;
  readonly told_at: number;
  readonly is_running: boolean;
}

/** A check that was due and not taken, as somebody said. */
export interface Missed {
  readonly id: string;
  readonly operation: number;
  readonly characteristic: number;
  readonly role: CheckRole;
  readonly why: string;
}

/**
 * Operations by number; checks and what was missed in the order they were made.
 *
 * unanswered  checks out of their limits of which nobody has said what was done, by their first
 */
export interface Checks {
  readonly operations: readonly OperationPieces[];
  readonly checks: readonly Check[];
  readonly due: readonly Due[];
  readonly exposures: readonly Exposure[];
  readonly missed: readonly Missed[];
  readonly unanswered: readonly string[];
}

/**
 * Fold all records of one batch.
 *
 * records      in any order; one that comes twice counts once
 * definitions  part definitions by the id of their publication: a check is judged by the one it names, and what is
 *              due is said by the one the batch keeps
 * proven       persons by the sign-ons that were proven to be theirs
 * listed       the definition the list of batches names, for a tablet that does not hold the batch's opening yet:
 *              without it nothing would be due
 */
export function foldChecks(
  records: Iterable<ReadRecord>,
  definitions: ReadonlyMap<string, PartDefinition>,
  proven: ReadonlyMap<string, string>,
  listed = "",
): Checks {
  const all = new Map([...records].map((record) => [record.id, record]));
  const { dead } = withdrawn(all, proven);
  const moments = [...all.values()]
    .flatMap(({ id, known }): Moment[] =>
      known === undefined || dead.has(id) ? [] : [{ at: foundAt(known)[0], id, known }],
    )
    .sort((left, right) => left.at - right.at || byId(left.id, right.id));
  const known = new Map([...definitions].map(([name, part]) => [name, characteristicsOf(part)]));
  const checks = checksOf(moments, known);
  const operations = operationsOf(moments);
  const opened = moments
    .flatMap((moment) => (moment.known.kind === "batch_opened" ? [{ ...moment, record: moment.known }] : []))
    .sort((left, right) => byId(left.id, right.id))[0];
  const plan: Known = known.get(opened?.record.definition ?? listed) ?? new Map();
  const sets = setsOf(checks);
  const answered = new Set(
    moments.flatMap((moment) => (moment.known.kind === "reaction_taken" ? [moment.known.body.check] : [])),
  );
  return {
    operations,
    checks,
    due: dueChecks(moments, plan),
    exposures: exposuresOf(plan, operations, sets),
    missed: moments.flatMap(({ id, known: said }) => {
      if (said.kind !== "check_missed") return [];
      const { operation, characteristic, role, why } = said.body;
      return [{ id, operation, characteristic, role, why }];
    }),
    unanswered: sets
      .filter((one) => ofSet(one) === "out" && !one.some((check) => answered.has(check.id)))
      .flatMap((one) => one[0]?.id ?? []),
  };
}

/** The pieces since the last good check as they can be known at a moment of server time [ms]. */
export function exposureAt(exposure: Exposure, operation: OperationPieces, now: number): Made {
  if (operation.is_running && now - operation.told_at > LONGEST_WITHOUT_NUMBER_MS) return "unknown";
  return exposure.pieces;
}

function checksOf(moments: readonly Moment[], known: ReadonlyMap<string, Known>): readonly Check[] {
  const taken = new Map<string, RecordOf<"check_taken">["body"]>();
  const mistyped = new Set<string>();
  for (const { id, known: said } of moments) {
    if (said.kind !== "check_taken") continue;
    taken.set(id, said.body);
    if (said.body.typing_error === true && said.body.repeats !== undefined) mistyped.add(said.body.repeats);
  }
  return moments.flatMap(({ at, id, known: said }): Check[] => {
    if (said.kind !== "check_taken") return [];
    const { body } = said;
    return [
      {
        id,
        operation: body.operation,
        characteristic: body.characteristic,
        role: body.role,
        said: body.value ?? body.result ?? "",
        outcome: outcomeOf(body, known.get(said.definition)?.get(keyOf(body))),
        root: rootOf(id, taken),
        mistyped: mistyped.has(id),
        made: body.made ?? "unknown",
        gauge: body.gauge ?? "",
        taken_at: at,
      },
    ];
  });
}

/** The check at the end of the repeats; ids are anybody's to write, so a ring ends where it began. */
function rootOf(check: string, taken: ReadonlyMap<string, RecordOf<"check_taken">["body"]>): string {
  const passed = [check];
  for (;;) {
    const last = passed.at(-1) ?? check;
    const before = taken.get(last)?.repeats;
    if (before === undefined || !taken.has(before) || passed.includes(before)) return last;
    passed.push(before);
  }
}

/** Checks with those that stand beside them, the first one first. */
function setsOf(checks: readonly Check[]): readonly (readonly Check[])[] {
  const found = new Map<string, Check[]>();
  for (const check of checks) found.set(check.root, [...(found.get(check.root) ?? []), check]);
  return [...found].map(([root, one]) => one.sort((a, b) => Number(a.id !== root) - Number(b.id !== root)));
}

const WORST_FIRST: readonly Outcome[] = ["out", "unjudged", "good", "no_limit"];

/** A good repeat makes no bad check good; one that was mistyped says nothing. */
function ofSet(checks: readonly Check[]): Outcome {
  const said = checks.filter((check) => !check.mistyped).map((check) => check.outcome);
  return WORST_FIRST.find((outcome) => said.includes(outcome)) ?? "unjudged";
}

/** Pieces by operation: the most of what was told one by one, counted at the end, or said with a check. */
function operationsOf(moments: readonly Moment[]): readonly OperationPieces[] {
  const books = new Map<number, Book>();
  for (const { at, id, known } of moments) {
    if (!("operation" in known.body)) continue;
    const book = books.get(known.body.operation) ?? new Book();
    if (book.take(at, id, known)) books.set(known.body.operation, book);
  }
  return [...books]
    .sort(([left], [right]) => left - right)
    .map(([operation, book]) => ({ operation, ...book.line() }));
}

/** What was said of the pieces of one operation. */
class Book {
  #told: number | undefined;
  #said: number | undefined;
  #at = 0;
  readonly #finished = new Map<string, number>();
  readonly #running = new Set<string>();

  /** True where the record says something of the operation's pieces. */
  take(at: number, id: string, known: Moment["known"]): boolean {
    if (known.kind === "operation_started" && known.body.look === undefined) {
      this.#running.add(id);
      this.#at = at;
    } else if (known.kind === "pieces_made") {
      this.#told = (this.#told ?? 0) + known.body.pieces;
      this.#at = at;
    } else if (known.kind === "check_taken" && known.body.made !== undefined) {
      this.#said = Math.max(known.body.made, this.#said ?? 0);
    } else if (known.kind === "operation_finished" && known.body.look === undefined) {
      const { started, out, scrap, set_up, samples } = known.body;
      if (!this.#finished.has(started)) this.#finished.set(started, out + scrap + set_up + samples);
      this.#at = at;
    } else {
      return false;
    }
    return true;
  }

  line(): Omit<OperationPieces, "operation"> {
    const counted = [...this.#finished.values()].reduce((sum, pieces) => sum + pieces, 0);
    const ended = this.#finished.size === 0 ? [] : [counted];
    const numbers = [this.#told, this.#said].flatMap((number) => number ?? []).concat(ended);
    return {
      made: numbers.length === 0 ? "unknown" : Math.max(...numbers),
      told_at: this.#at,
      is_running: [...this.#running].some((stint) => !this.#finished.has(stint)),
    };
  }
}

function exposuresOf(
  plan: Known,
  operations: readonly OperationPieces[],
  sets: readonly (readonly Check[])[],
): readonly Exposure[] {
  const made = new Map(operations.map((one) => [one.operation, one.made]));
  const good = new Map<string, Check>();
  for (const one of sets) {
    const first = one[0];
    if (first !== undefined && ["good", "no_limit"].includes(ofSet(one))) good.set(keyOf(first), first);
  }
  return [...plan.values()].flatMap(({ operation, characteristic }) => {
    const total = made.get(operation);
    if (total === undefined) return [];
    const last = good.get(keyOf({ operation, characteristic }));
    const before = last === undefined ? 0 : last.made;
    const pieces = total === "unknown" || before === "unknown" ? "unknown" : total - before;
    return [{ operation, characteristic, last_good: last?.id ?? "", pieces }];
  });
}
