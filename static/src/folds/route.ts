// SPDX-License-Identifier: Apache-2.0
// What happened to one batch along its route: each operation as it was counted, and what can have made its pieces.
//
// The server's folds/route.py is the same function; tests/vectors/route holds both to the same answers. Every term
// but the differences was counted by somebody who is proven. Nothing is cut at zero, and nothing is netted: pieces
// short in one stint of an operation and over in another are two lines, and so are foreign pieces beside them.
import { canonical } from "../records/canonical.js";
import type { Kind, ReadRecord, RecordOf } from "../records/kinds.js";
import { acceptances, keyOf } from "./ledger.js";
import type { Point } from "./look.js";
import { foldRequests } from "./requests.js";
import { authorOf, byId, byText, foundAt, Gathered } from "./gathered.js";

/**
 * One operation in numbers of pieces, all its stints together.
 *
 * look     the look whose queries and rework these pieces are; '' on the route itself
 * inside   pieces that were seen in the machine still
 * short    pieces that went in and are nowhere, as a negative number; over: pieces that came from nowhere
 * is_back  counted back from outside: what went in is what was sent
 */
export interface OperationCount {
  readonly operation: number;
  readonly look: string;
  readonly in: number;
  readonly out: number;
  readonly scrap: number;
  readonly set_up: number;
  readonly samples: number;
  readonly inside: number;
  readonly short: number;
  readonly over: number;
  readonly is_back: boolean;
}

/** A named difference at an operation; `accepted_by` as in the ledger of the bench. */
export interface RouteDifference {
  readonly operation: number;
  readonly kind: string;
  readonly subject: string;
  readonly amount: number;
  readonly accepted_by: string;
}

/**
 * One of what can have made the batch's pieces at an operation, and from when to when it can.
 *
 * what        stint, machine, tool, cast, person, load or lot
 * value       a name; the id of a stint, a person, a load or a lot
 * started_at  server time                                                      [ms]
 * ended_at    0 while nobody has said that it ended                            [ms]
 */
export interface MadeBy {
  readonly operation: number;
  readonly what: string;
  readonly value: string;
  readonly started_at: number;
  readonly ended_at: number;
}

/** The operations by number, what does not agree, what is open, and what can have made the pieces. */
export interface RouteState {
  readonly operations: readonly OperationCount[];
  readonly differences: readonly RouteDifference[];
  readonly points: readonly Point[];
  readonly made: readonly MadeBy[];
}

type Line = Omit<RouteDifference, "accepted_by">;
type Recounted = RecordOf<"operation_recounted">["body"]["of"];
type Finish = RecordOf<"operation_finished">["body"];

/** The kinds of a route, each with its body. */
type Bodies = {
  readonly [
    K in
      | "operation_started"
      | "operation_finished"
      | "operation_recounted"
      | "scrap_destroyed"
      | "request_seconded"
      | "load_filled"
      | "lot_sent"
      | "lot_returned"
      | "sample_taken"
      | "components_counted"
  ]: RecordOf<K>["body"];
};
type RouteKind = keyof Bodies & Kind;

interface Of<K extends RouteKind> {
  readonly record: ReadRecord;
  readonly body: Bodies[K];
  /** Server time                                                                 [ms] */
  readonly at: number;
}

/**
 * Fold all records of one batch.
 *
 * proven   persons by the sign-ons that were proven to be theirs
 */
export function foldRoute(records: Iterable<ReadRecord>, proven: ReadonlyMap<string, string>): RouteState {
  const gathered = new Gathered(records, proven);
  const { standing } = gathered;
  const accepted = acceptances(gathered.known, foldRequests(gathered));
  const stints = stintsOf(standing);
  const page = new Counted(standing, proven);
  const operations = page.operations(stints);
  page.beside(operations);
  const lines = page.lines.sort(
    (left, right) =>
      left.operation - right.operation ||
      byText(left.kind, right.kind) ||
      byText(left.subject, right.subject),
  );
  return {
    operations,
    differences: lines.map((line) => ({
      ...line,
      accepted_by: accepted.get(keyOf({ ...line, look: "" })) ?? "",
    })),
    points: page.points.sort(
      (left, right) => byText(left.kind, right.kind) || byText(left.subject, right.subject),
    ),
    made: madeOf(standing, stints, proven),
  };
}

function ofKind<K extends RouteKind>(standing: readonly ReadRecord[], kind: K): readonly Of<K>[] {
  return standing.flatMap((record) => {
    const { known } = record;
    if (known?.kind !== kind) return [];
    return [{ record, body: known.body as Bodies[K], at: foundAt(known)[0] }];
  });
}

/** One stint of an operation: what began it, where that is known, and every count of its end. */
interface Stint {
  readonly name: string;
  readonly operation: number;
  readonly look: string;
  readonly began: Of<"operation_started"> | undefined;
  readonly finishes: readonly Of<"operation_finished">[];
}

/** Every stint, by id; one whose beginning has not come yet is known by its end. */
function stintsOf(standing: readonly ReadRecord[]): readonly Stint[] {
  const started = new Map(ofKind(standing, "operation_started").map((one) => [one.record.id, one]));
  const finished = new Map<string, Of<"operation_finished">[]>();
  for (const one of ofKind(standing, "operation_finished")) {
    const stint = one.body.started;
    finished.set(stint, [...(finished.get(stint) ?? []), one]);
  }
  return [...new Set([...started.keys(), ...finished.keys()])].sort(byId).map((name) => {
    const began = started.get(name);
    const finishes = finished.get(name) ?? [];
    const body = began?.body ?? finishes[0]?.body;
    return { name, operation: body?.operation ?? 0, look: body?.look ?? "", began, finishes };
  });
}

/** The counts of the operations, and the lines and points that come of them. */
class Counted {
  readonly lines: Line[] = [];
  readonly points: Point[] = [];

  readonly #recounts: readonly Of<"operation_recounted">[];

  constructor(
    readonly standing: readonly ReadRecord[],
    readonly proven: ReadonlyMap<string, string>,
  ) {
    this.#recounts = this.#proven("operation_recounted");
    for (const scrap of this.#proven("scrap_destroyed")) this.#scrap(scrap);
  }

  /** Count each operation, its stints together, then what is back from outside. */
  operations(stints: readonly Stint[]): readonly OperationCount[] {
    const counted = new Map<string, { stint: Stint; finishes: Finish[] }>();
    for (const stint of stints) {
      const finish = this.#finish(stint);
      if (finish === undefined) continue;
      const place = `${stint.operation} ${stint.look}`;
      const here = counted.get(place) ?? { stint, finishes: [] };
      here.finishes.push(finish);
      counted.set(place, here);
    }
    const found = [...counted.values()].map(({ stint, finishes }) => this.#operation(stint, finishes));
    return [...found, ...this.#back()].sort(
      (left, right) =>
        left.operation - right.operation ||
        byText(left.look, right.look) ||
        Number(left.is_back) - Number(right.is_back),
    );
  }

  /** Hold the counts of loads, samples and components to those of the operation they belong to. */
  beside(operations: readonly OperationCount[]): void {
    const counted = { in: sums(), out: sums(), samples: sums() };
    for (const one of operations) {
      add(counted.in, one.operation, one.in);
      add(counted.out, one.operation, one.out);
      add(counted.samples, one.operation, one.samples);
    }
    const filled = sums();
    for (const { body } of this.#proven("load_filled")) add(filled, body.operation, body.pieces);
    const taken = sums();
    for (const { body } of this.#proven("sample_taken"))
      if (body.fate !== "given_back") add(taken, body.operation, body.pieces);
    this.#hold("loads_differ", filled, counted.in);
    this.#hold("samples_differ", taken, counted.samples);
    this.#components(counted.out);
  }

  #hold(kind: string, beside: ReadonlyMap<number, number>, counted: ReadonlyMap<number, number>): void {
    for (const [operation, pieces] of beside) {
      const here = counted.get(operation);
      if (here !== undefined && pieces !== here) this.#line(operation, kind, "", pieces - here);
    }
  }

  /** A component is due once in each piece that leaves the first operation that counts it, in none later. */
  #components(out: ReadonlyMap<number, number>): void {
    const used = new Map<string, Map<number, number>>();
    for (const { body } of this.#proven("components_counted")) {
      const of = used.get(body.component) ?? sums();
      add(of, body.operation, body.issued - body.left - body.scrapped);
      used.set(body.component, of);
    }
    for (const [component, byOperation] of used) {
      const first = Math.min(...byOperation.keys());
      for (const [operation, pieces] of byOperation) {
        const due = operation === first ? out.get(operation) : 0;
        if (due === undefined || pieces === due) continue;
        const kind = pieces < due ? "components_short" : "components_over";
        this.#line(operation, kind, component, pieces - due);
      }
    }
  }

  /** The count a stint ended with: the first of the proven ones, as far as no other settles a number of it. */
  #finish(stint: Stint): Finish | undefined {
    const { name, operation, finishes } = stint;
    const proven = finishes.filter(({ record }) => this.#isProven(record));
    if (finishes.length === 0) this.points.push({ kind: "stint_not_finished", subject: name, amount: 0 });
    const [first] = proven;
    if (first === undefined) return undefined;
    if (new Set(proven.map(({ body }) => canonical(body))).size > 1) {
      const outs = proven.map(({ body }) => body.out);
      const amount = Math.max(...outs) - Math.min(...outs);
      this.lines.push({ operation, kind: "finishes_differ", subject: name, amount });
    }
    const { body, record } = first;
    const number = (of: Recounted, counted: number): number => this.#number(stint, of, record, counted);
    number("made", body.out + body.scrap + body.set_up + body.samples);
    return {
      ...body,
      in: number("in", body.in),
      out: number("out", body.out),
      scrap: number("scrap", body.scrap),
    };
  }

  /** One number of a stint by all who counted it: what still weighs, and a line for each way that differs. */
  #number({ name, operation }: Stint, of: Recounted, finished: ReadRecord, counted: number): number {
    const recounts = this.#recounts.filter(({ body }) => body.started === name && body.of === of);
    const said: readonly OneCount[] = [
      { record: finished, how: "hand", pieces: counted, settles: [] },
      ...recounts.map(({ record, body: { how, pieces, settles = [] } }) => ({
        record,
        how,
        pieces,
        settles,
      })),
    ];
    const { weighs, settled } = weighing(said, this.proven);
    const hands = weighs.map(({ pieces }) => pieces);
    const holds = hands[0] ?? counted;
    if (new Set(hands).size > 1)
      this.#line(operation, "recounts_differ", `${of} ${name}`, Math.max(...hands) - Math.min(...hands));
    for (const way of ["counter", "weighed"] as const) {
      const found = said.flatMap(({ record, how, pieces }) =>
        how === way && !settled.has(record.id) ? [pieces - holds] : [],
      );
      const farthest = found.sort((left, right) => Math.abs(right) - Math.abs(left) || right - left)[0] ?? 0;
      this.#line(operation, `${way}_differs`, `${of} ${name}`, farthest);
    }
    return holds;
  }

  /** What was handed in was destroyed or kept, and two people say so. */
  #scrap({ record, body }: Of<"scrap_destroyed">): void {
    const { operation, handed_in, destroyed, kept } = body;
    const amount = destroyed + kept - handed_in;
    if (amount !== 0) this.lines.push({ operation, kind: "scrap_differs", subject: record.id, amount });
    const author = this.proven.get(authorOf(record) ?? "");
    const isSeconded = ofKind(this.standing, "request_seconded").some((one) => {
      const person = this.proven.get(authorOf(one.record) ?? "");
      return one.body.request === record.id && person !== undefined && person !== author;
    });
    if (!isSeconded)
      this.points.push({ kind: "destruction_not_seconded", subject: record.id, amount: handed_in });
  }

  #operation({ operation, look }: Stint, finishes: readonly Finish[]): OperationCount {
    const sum = (of: (finish: Finish) => number): number =>
      finishes.reduce((whole, finish) => whole + of(finish), 0);
    const found = finishes.map(differenceOf);
    return this.#count({
      operation,
      look,
      in: sum((one) => one.in),
      out: sum((one) => one.out),
      scrap: sum((one) => one.scrap),
      set_up: sum((one) => one.set_up),
      samples: sum((one) => one.samples),
      inside: sum((one) => one.inside ?? 0),
      ...apart(found),
      is_back: false,
    });
  }

  /** The operations at which lots were counted back; foreign pieces are a line, a lot that is away is open. */
  #back(): readonly OperationCount[] {
    const sent = new Map<string, number>();
    for (const { body } of this.#proven("lot_sent")) add(sent, body.lot, body.pieces);
    const own = new Map<string, number>();
    const backAt = new Map<string, number>();
    for (const { record, body } of this.#proven("lot_returned")) {
      const { lot, operation, counted, foreign } = body;
      add(own, lot, counted - foreign);
      backAt.set(lot, Math.max(operation, backAt.get(lot) ?? 0));
      if (foreign > 0)
        this.lines.push({ operation, kind: "foreign_pieces", subject: record.id, amount: foreign });
    }
    for (const [lot, pieces] of sent)
      if (!own.has(lot)) this.points.push({ kind: "lot_away", subject: lot, amount: pieces });
    return [...new Set(backAt.values())].map((operation) => {
      const lots = [...own.keys()].filter((lot) => backAt.get(lot) === operation);
      const whole = (of: ReadonlyMap<string, number>): number =>
        lots.reduce((sum, lot) => sum + (of.get(lot) ?? 0), 0);
      return this.#count({
        operation,
        look: "",
        in: whole(sent),
        out: whole(own),
        scrap: 0,
        set_up: 0,
        samples: 0,
        inside: 0,
        ...apart(lots.map((lot) => (own.get(lot) ?? 0) - (sent.get(lot) ?? 0))),
        is_back: true,
      });
    });
  }

  #count(count: OperationCount): OperationCount {
    this.#line(count.operation, "pieces_short", "", count.short);
    this.#line(count.operation, "pieces_over", "", count.over);
    this.#line(count.operation, "still_inside", "", -count.inside);
    return count;
  }

  #line(operation: number, kind: string, of: string, amount: number): void {
    const subject = `${operation} ${of}`.trim();
    if (amount !== 0) this.lines.push({ operation, kind, subject, amount });
  }

  #proven<K extends RouteKind>(kind: K): readonly Of<K>[] {
    return ofKind(this.standing, kind).filter(({ record }) => this.#isProven(record));
  }

  /** A count by nobody who is proven does not count, and is named. */
  #isProven(record: ReadRecord): boolean {
    if (this.proven.has(authorOf(record) ?? "")) return true;
    this.points.push({ kind: "count_not_proven", subject: record.id, amount: 0 });
    return false;
  }
}

/** What of a count came from nowhere; below zero, what is nowhere. */
export function differenceOf(finish: Finish): number {
  const { out, scrap, set_up, samples, inside = 0 } = finish;
  return out + scrap + set_up + samples + inside - finish.in;
}

/** One number of a stint as somebody counted it; `settles` names counts that it takes the place of. */
export interface OneCount {
  readonly record: ReadRecord;
  readonly how: string;
  readonly pieces: number;
  readonly settles: readonly string[];
}

/**
 * The counts by hand that still weigh, the first of them what stands; and what gave way.
 *
 * A count gives way to one by another person that names it; where none would be left, all of them stand.
 */
export function weighing(
  said: readonly OneCount[],
  proven: ReadonlyMap<string, string>,
): { readonly weighs: readonly OneCount[]; readonly settled: ReadonlySet<string> } {
  const person = new Map(said.map(({ record }) => [record.id, proven.get(authorOf(record) ?? "")]));
  const settled = new Set(
    said.flatMap(({ record, settles }) =>
      settles.filter((one) => person.has(one) && person.get(one) !== person.get(record.id)),
    ),
  );
  const ofHand = said.filter(({ how }) => how === "hand");
  const standing = ofHand.filter(({ record }) => !settled.has(record.id));
  return { weighs: standing.length === 0 ? ofHand : standing, settled };
}

/** All that is short, and all that is over: never set against each other. */
function apart(found: readonly number[]): { readonly short: number; readonly over: number } {
  const sum = (numbers: readonly number[]): number => numbers.reduce((whole, one) => whole + one, 0);
  return { short: sum(found.filter((one) => one < 0)), over: sum(found.filter((one) => one > 0)) };
}

function sums(): Map<number, number> {
  return new Map();
}

function add<Key>(to: Map<Key, number>, key: Key, pieces: number): void {
  to.set(key, (to.get(key) ?? 0) + pieces);
}

/** What can have made the pieces at each operation, each with the span from its first stint to its last. */
function madeOf(
  standing: readonly ReadRecord[],
  stints: readonly Stint[],
  proven: ReadonlyMap<string, string>,
): readonly MadeBy[] {
  const made = new Map<
    string,
    { operation: number; what: string; value: string; spans: [number, number][] }
  >();
  const put = (operation: number, what: string, value: string | undefined, span: [number, number]): void => {
    if (value === undefined || value === "") return;
    const key = `${operation} ${what} ${value}`;
    const here = made.get(key) ?? { operation, what, value, spans: [] };
    here.spans.push(span);
    made.set(key, here);
  };
  for (const { name, operation, began, finishes } of stints) {
    const ended = finishes.map(({ at }) => at);
    const first = began === undefined ? ended : [began.at, ...ended];
    const span: [number, number] = [Math.min(...first), Math.max(0, ...ended)];
    const authors = [...finishes, ...(began === undefined ? [] : [began])];
    const persons = new Set(authors.map(({ record }) => proven.get(authorOf(record) ?? "")));
    const body = began?.body;
    put(operation, "stint", name, span);
    for (const person of persons) put(operation, "person", person, span);
    for (const what of ["machine", "tool", "cast"] as const) put(operation, what, body?.[what], span);
  }
  for (const { body, at } of ofKind(standing, "load_filled"))
    put(body.operation, "load", body.load, [at, at]);
  const back = new Map<string, number>();
  for (const { body, at } of ofKind(standing, "lot_returned"))
    back.set(body.lot, Math.max(back.get(body.lot) ?? 0, at));
  for (const { body, at } of ofKind(standing, "lot_sent"))
    put(body.operation, "lot", body.lot, [at, back.get(body.lot) ?? 0]);
  return [...made.values()]
    .map(({ operation, what, value, spans }) => {
      const ended = spans.map(([, end]) => end);
      return {
        operation,
        what,
        value,
        started_at: Math.min(...spans.map(([start]) => start)),
        ended_at: ended.includes(0) ? 0 : Math.max(...ended),
      };
    })
    .sort(
      (left, right) =>
        left.operation - right.operation || byText(left.what, right.what) || byText(left.value, right.value),
    );
}
