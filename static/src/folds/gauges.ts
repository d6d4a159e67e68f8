// SPDX-License-Identifier: Apache-2.0
// A gauge, and what a value that was taken with it is worth: by all that was said of the gauge, before and after.
//
// The server's folds/gauges.py is the same function; tests/vectors/gauges holds both to the same answers. A gauge is
// no batch's. What was said of it holds by when it was said, never by when it came here.
import { bareName } from "../records/bare_name.js";
import type { GaugeDefinition, ReadRecord, RecordOf } from "../records/kinds.js";
import { authorOf, byId, foundAt, withdrawn } from "./gathered.js";

/** The worst first: of several the first is said. */
export type Standing = "found_wrong" | "doubtful" | "not_known" | "wrong_kind" | "overdue" | "in_order";

/** Server time [ms], and the record: two of one time stand in the order of ids. */
export interface Moment {
  readonly at: number;
  readonly id: string;
}

/** What somebody said of a gauge, as far as it counts; a doubt or a bad finding that was taken back is kept. */
export interface GaugeCheck extends Moment {
  readonly result: RecordOf<"gauge_checked">["body"]["result"];
  readonly taken_back: boolean;
}

/** From a moment on the gauge may be used up to this day, '' is for ever: by a definition or a good check. */
export interface Due extends Moment {
  readonly day: string;
}

/** Behind all that was said: how a gauge stands now, whatever the clocks of those who said it. */
export const LATEST: Moment = { at: Infinity, id: "" };
/** A clock may say anything; a calendar ends with the year 9999. */
const LAST_MOMENT_MS = 253_402_214_400_000;

type Proven = ReadonlyMap<string, string>;

/**
 * A gauge by the records that speak of it, each list in the order of time.
 *
 * number  on its label, as it was defined, or as whoever named it first wrote it
 * known   the works has defined it
 * kinds   what it is, in the words of the check plan
 */
export class Gauge {
  constructor(
    readonly number: string,
    readonly known: boolean,
    readonly kinds: readonly string[],
    readonly checks: readonly GaugeCheck[],
    readonly dues: readonly Due[],
  ) {}

  /**
   * The checks that found it wrong and reach a moment, and whether each was taken back: one reaches back to the last
   * good check before it, and on to the first good one behind it.
   */
  wrongAt(moment: Moment): readonly GaugeCheck[] {
    const good = this.checks.filter(({ result }) => result === "fit");
    return this.checks.filter((one) => {
      if (one.result !== "wrong") return false;
      const [first, last] = inOrder(one, moment) < 0 ? [one, moment] : [moment, one];
      return !good.some((between) => inOrder(first, between) < 0 && inOrder(between, last) <= 0);
    });
  }

  /**
   * What a value is worth that was taken at a moment, on a day of the works' calendar.
   *
   * measured  what the plan measures the characteristic with; '' where it does not say
   */
  standingAt(moment: Moment, day: string, measured = ""): Standing {
    if (this.wrongAt(moment).some((one) => !one.taken_back)) return "found_wrong";
    // A doubt is answered by the next good check: what was measured meanwhile was right.
    const lastGood = this.checks.filter(({ result }) => result === "fit").at(-1);
    const isDoubted = this.checks.some(
      (one) =>
        one.result === "doubtful" &&
        !one.taken_back &&
        inOrder(one, moment) <= 0 &&
        (lastGood === undefined || inOrder(lastGood, one) < 0),
    );
    if (isDoubted) return "doubtful";
    if (!this.known) return "not_known";
    if (measured !== "" && !this.kinds.some((kind) => namesKind(measured, kind))) return "wrong_kind";
    const due = this.dueAt(moment);
    return due !== "" && day > due ? "overdue" : "in_order";
  }

  /** The last day it may be used, as it stood at a moment; '' for a gauge that is never due. */
  dueAt(moment: Moment): string {
    const said = this.dues.filter((one) => inOrder(one, moment) <= 0).at(-1);
    // A value from before the gauge was written down is held to what was written down first.
    return (said ?? this.dues[0])?.day ?? "";
  }
}

/** All gauges that are spoken of, as the folds of a batch and the screens ask for them. */
export class Gauges {
  readonly #gauges: ReadonlyMap<string, Gauge>;

  /**
   * records   the definitions of gauges and what was said of them, in any order; others are passed over
   * proven    persons by the sign-ons that were proven to be theirs
   * vouching  sign-ons whose word that a gauge is fit counts; what speaks against one counts from anybody
   */
  constructor(
    records: Iterable<ReadRecord>,
    proven: Proven,
    vouching: { has(signOn: string): boolean } = new Set(),
  ) {
    const of = new Map<string, ReadRecord[]>();
    const takenBack: ReadRecord[] = [];
    for (const record of records) {
      const number = numberSaid(record);
      if (number === undefined) {
        if (record.known?.kind === "record_withdrawn") takenBack.push(record);
        continue;
      }
      const found = of.get(bareName(number));
      if (found === undefined) of.set(bareName(number), [record]);
      else found.push(record);
    }
    this.#gauges = new Map(
      [...of].map(([name, found]) => [name, fold([...found, ...takenBack], proven, vouching)]),
    );
  }

  /** The gauge of a number; one that nobody speaks of is not known. */
  of(number: string): Gauge {
    return this.#gauges.get(bareName(number)) ?? new Gauge(number, false, [], [], []);
  }

  /** Every gauge that is spoken of, by its number. */
  all(): readonly Gauge[] {
    return [...this.#gauges].sort(([left], [right]) => (left < right ? -1 : 1)).map(([, gauge]) => gauge);
  }

  /**
   * The checks that found a gauge wrong and reach a value of a batch, by id; true where nothing of it is left: the
   * check, or every value it reaches, was taken back.
   */
  wrongIn(records: Iterable<ReadRecord>, dead: ReadonlySet<string>): ReadonlyMap<string, boolean> {
    const found = new Map<string, boolean>();
    for (const { id, known } of records) {
      if (known?.kind !== "check_taken" || known.body.gauge === undefined) continue;
      for (const one of this.of(known.body.gauge).wrongAt({ at: foundAt(known)[0], id }))
        found.set(one.id, (found.get(one.id) ?? true) && (one.taken_back || dead.has(id)));
    }
    return found;
  }
}

export const NO_GAUGES = new Gauges([], new Map());

/** The number of the gauge a record defines or speaks of; undefined for any other. */
export function numberSaid({ known }: ReadRecord): string | undefined {
  if (known?.kind === "gauge_checked") return known.body.gauge;
  return definitionIn(known)?.number;
}

/** The day of the works' calendar at a server time [ms]. */
export function dayOf(at: number, zone: string): string {
  const parts = new Intl.DateTimeFormat("en", {
    timeZone: zone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  }).formatToParts(Math.min(Math.max(at, 0), LAST_MOMENT_MS));
  const of = (type: string): string => parts.find((part) => part.type === type)?.value ?? "";
  return `${of("year")}-${of("month")}-${of("day")}`;
}

function definitionIn(known: ReadRecord["known"]): GaugeDefinition | undefined {
  if (known?.kind !== "definition_published") return undefined;
  return known.body.content.subject === "gauge" ? known.body.content : undefined;
}

function inOrder(left: Moment, right: Moment): number {
  if (left.at !== right.at) return left.at < right.at ? -1 : 1;
  return byId(left.id, right.id);
}

function fold(
  records: readonly ReadRecord[],
  proven: Proven,
  vouching: { has(signOn: string): boolean },
): Gauge {
  const known = new Map(records.map((record) => [record.id, record]));
  const { dead } = withdrawn(known, proven);
  const checks: GaugeCheck[] = [];
  const dues: Due[] = [];
  let number: string | undefined;
  let definition: GaugeDefinition | undefined;
  const sorted = [...known.values()]
    .flatMap((record) =>
      record.known === undefined ? [] : [{ record, at: foundAt(record.known)[0], id: record.id }],
    )
    .sort(inOrder);
  for (const { record, at, id } of sorted) {
    number ??= numberSaid(record);
    const defined = definitionIn(record.known);
    if (defined !== undefined) {
      // One that only moves the gauge to another place says nothing new of when it is due.
      if (definition === undefined || definition.due !== defined.due)
        dues.push({ id, at, day: defined.due ?? "" });
      definition = defined;
    }
    if (record.known?.kind !== "gauge_checked") continue;
    const { result, next_due } = record.known.body;
    if (result === "fit" && (dead.has(id) || !vouching.has(authorOf(record) ?? ""))) continue;
    checks.push({ id, at, result, taken_back: dead.has(id) });
    if (result === "fit" && next_due !== undefined) dues.push({ id, at, day: next_due });
  }
  return new Gauge(
    definition?.number ?? number ?? "",
    definition !== undefined,
    definition?.kinds ?? [],
    checks,
    dues,
  );
}

/** True where the plan's words name a kind: its words stand among them, one behind the other. */
function namesKind(measured: string, kind: string): boolean {
  const plan = wordsOf(measured);
  const wanted = wordsOf(kind);
  return plan.some((_, start) => wanted.every((word, place) => plan[start + place] === word));
}

function wordsOf(text: string): readonly string[] {
  return [...text.matchAll(/[^ \t,;:/()+]+/g)].map(([word]) => bareName(word));
}
