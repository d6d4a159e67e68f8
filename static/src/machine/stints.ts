// SPDX-License-Identifier: Apache-2.0
// The stints of an operation as whoever stands at the machine needs them: those that run, what was used last, what
// went to tests since one began, what was counted.
import { weighing, type OneCount } from "../folds/route.js";
import { foundAt, withdrawn } from "../folds/gathered.js";
import type { ReadRecord, RecordOf } from "../records/kinds.js";

export type StintBody = RecordOf<"operation_started">["body"];
export type FinishBody = RecordOf<"operation_finished">["body"];
export type RecountBody = RecordOf<"operation_recounted">["body"];
export type SampleBody = RecordOf<"sample_taken">["body"];

/** What a stint is made with, all of it as far as somebody said it. */
export type With = Pick<StintBody, "machine" | "tool" | "cavities" | "cast">;

export interface Stint {
  readonly id: string;
  readonly chain: string;
  readonly at: number;
  readonly signOn: string;
  readonly body: StintBody;
}

export interface Finish {
  readonly id: string;
  readonly at: number;
  readonly signOn: string;
  readonly body: FinishBody;
}

export interface Recount {
  readonly id: string;
  readonly at: number;
  readonly signOn: string;
  readonly body: RecountBody;
}

/** A count of a stint as it stands: its numbers, and the recounts that took the place of what was counted first. */
export interface Standing {
  readonly body: FinishBody;
  readonly settledBy: readonly Recount[];
}

export interface Sample {
  readonly id: string;
  readonly body: SampleBody;
}

/** Names to choose from, those used last first. */
export interface Offered {
  readonly machine: readonly string[];
  readonly tool: readonly string[];
  readonly cast: readonly string[];
}

const MOST_OFFERED = 4;

/** What stands of an operation in a batch, oldest first. */
export class Stints {
  readonly all: readonly Stint[];
  readonly finishes: readonly Finish[];
  readonly recounts: readonly Recount[];
  readonly #standing: readonly ReadRecord[];

  constructor(records: readonly ReadRecord[], proven: ReadonlyMap<string, string>, operation: number) {
    const { dead } = withdrawn(new Map(records.map((record) => [record.id, record])), proven);
    this.#standing = records.filter(({ id }) => !dead.has(id));
    this.all = this.#standing.flatMap(({ id, chain, known }): Stint[] => {
      if (known?.kind !== "operation_started" || known.body.operation !== operation) return [];
      return [{ id, chain, at: foundAt(known)[0], signOn: known.sign_on, body: known.body }];
    });
    this.finishes = this.#standing.flatMap(({ id, known }): Finish[] => {
      if (known?.kind !== "operation_finished" || known.body.operation !== operation) return [];
      return [{ id, at: foundAt(known)[0], signOn: known.sign_on, body: known.body }];
    });
    this.recounts = this.#standing.flatMap(({ id, known }): Recount[] => {
      if (known?.kind !== "operation_recounted" || known.body.operation !== operation) return [];
      return [{ id, at: foundAt(known)[0], signOn: known.sign_on, body: known.body }];
    });
  }

  /** What stands of a count, once another person's has settled a number of it. */
  stands(finish: Finish, proven: ReadonlyMap<string, string>): Standing {
    const records = new Map(this.#standing.map((record) => [record.id, record]));
    let { body } = finish;
    const settledBy: Recount[] = [];
    for (const of of ["in", "out", "scrap"] as const) {
      const recounts = this.recounts.filter(
        (one) => one.body.started === finish.body.started && one.body.of === of,
      );
      const said = [
        { id: finish.id, how: "hand", pieces: finish.body[of], settles: [] },
        ...recounts.map(({ id, body: { how, pieces, settles = [] } }) => ({ id, how, pieces, settles })),
      ].flatMap(({ id, ...count }): OneCount[] => {
        const record = records.get(id);
        return record === undefined ? [] : [{ record, ...count }];
      });
      const [stands] = weighing(said, proven).weighs;
      const by = recounts.find(({ id }) => id === stands?.record.id);
      if (stands === undefined || by === undefined) continue;
      body = { ...body, [of]: stands.pieces };
      settledBy.push(by);
    }
    return { body, settledBy };
  }

  /** Those nobody has counted to their end, this tablet's own first. */
  open(chain: string): readonly Stint[] {
    const ended = new Set(this.finishes.map(({ body }) => body.started));
    const open = this.all.filter(({ id }) => !ended.has(id));
    return [...open.filter((one) => one.chain === chain), ...open.filter((one) => one.chain !== chain)];
  }

  /** What was taken for tests at this tablet since the stint began. */
  samples({ at, body }: Stint, chain: string): readonly Sample[] {
    return this.#standing.flatMap(({ id, chain: of, known }): Sample[] => {
      if (known?.kind !== "sample_taken" || of !== chain) return [];
      if (known.body.operation !== body.operation || foundAt(known)[0] < at) return [];
      return [{ id, body: known.body }];
    });
  }
}

/** Components counted at this tablet, of whatever batch, the last ones first. */
export function componentsKnown(
  records: readonly ReadRecord[],
): readonly { readonly component: string; readonly lot: string }[] {
  const counted = records.flatMap(({ known }) => (known?.kind === "components_counted" ? [known] : []));
  const newest = counted.sort((left, right) => foundAt(right)[0] - foundAt(left)[0]);
  const found = new Map(
    newest.map(({ body: { component, lot } }) => [`${component} ${lot}`, { component, lot }]),
  );
  return [...found.values()].slice(0, MOST_OFFERED);
}

/** What a stint is made with, and one thing of it said anew; what is empty is not said. */
export function saying<K extends keyof With>(said: With, what: K, now: NonNullable<With[K]>): With {
  return Object.fromEntries(Object.entries({ ...said, [what]: now }).filter(([, one]) => one.length > 0));
}

/** Pieces of samples that are gone for good. */
export function gone(samples: readonly Sample[]): number {
  return samples.reduce((sum, { body }) => sum + (body.fate === "given_back" ? 0 : body.pieces), 0);
}

/**
 * The names used at an operation, whatever the batch, and the casts of this batch.
 *
 * A batch is of one cast, so that another batch's would be a wrong answer that is easily tapped.
 */
export function offered(records: readonly ReadRecord[], batch: string, operation: number): Offered {
  const found = { machine: new Set<string>(), tool: new Set<string>(), cast: new Set<string>() };
  const started = records.flatMap(({ known }) => (known?.kind === "operation_started" ? [known] : []));
  for (const known of started.sort((left, right) => foundAt(right)[0] - foundAt(left)[0])) {
    const { machine, tool, cast } = known.body;
    if (known.body.operation === operation) {
      if (machine !== undefined) found.machine.add(machine);
      if (tool !== undefined) found.tool.add(tool);
    }
    if (known.batch === batch && cast !== undefined) found.cast.add(cast);
  }
  const newest = (names: ReadonlySet<string>): readonly string[] => [...names].slice(0, MOST_OFFERED);
  return { machine: newest(found.machine), tool: newest(found.tool), cast: newest(found.cast) };
}
