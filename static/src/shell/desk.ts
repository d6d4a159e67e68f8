// SPDX-License-Identifier: Apache-2.0
// What the screens of a batch, and the pages of a look, work with.
import { signal } from "@preact/signals";
import type { LookState } from "../bench/look_state.js";
import { TallySession } from "../bench/tally_session.js";
import type { Person } from "../definitions/people.js";
import type { BenchState } from "../folds/bench.js";
import type { Draft, PartDefinition, ReadRecord } from "../records/kinds.js";
import type { BatchLine, Tablet } from "../sync/contract.js";
import type { Names } from "../words/differences.js";
import type { Route } from "./routes.js";

/** Everything of one batch that its screens need. */
export interface Desk {
  readonly tablet: Tablet;
  readonly line: BatchLine;
  readonly definition: PartDefinition;
  readonly parts: ReadonlyMap<string, PartDefinition>;
  readonly leads: readonly string[];
  /** Whoever is signed on, with the roles of the day. */
  readonly person: Person | undefined;
  readonly everybody: readonly Person[];
  readonly chain: string;
  readonly isDemo: boolean;
  readonly sessions: Sessions;
  /** Ask who goes on. */
  readonly onPerson: () => void;
}

/** The session of the tray in hand: it outlives its screen, because it holds what is not stored. */
export class Sessions {
  readonly #present = signal<TallySession | undefined>(undefined);

  /** The session that holds something not stored, if any: nothing may lead away from it. */
  held(): TallySession | undefined {
    const session = this.#present.value;
    return session !== undefined && session.unstored.value.length > 0 ? session : undefined;
  }

  of(desk: Desk, look: string, tray: string): TallySession {
    const present = this.#present.peek();
    if (present?.bench.tray === tray) return present;
    const { line, definition } = desk;
    const bench = { batch: line.batch, definitionId: line.definition, definition, look, tray };
    const session = new TallySession(desk.tablet, bench);
    this.#present.value = session;
    return session;
  }
}

/** The pair that machine and saw carry: what belongs to the batch and to no look. */
export const NO_LOOK = "machine";

/** Places of the bench; the page of a batch is the lead's; machine and saw have their own. */
export type AtBatch = Exclude<
  Extract<Route, { batch: string }>,
  { at: "batch" | "machine" | "saw" } | { operation: string }
>;

type AtLook = Exclude<AtBatch, { at: "look" } | { tray: string }>;

export interface LookScreensProps {
  readonly desk: Desk;
  readonly place: AtLook;
  readonly bench: BenchState;
  /** The records of the batch. */
  readonly records: readonly ReadRecord[];
  readonly justClosed: number | undefined;
}

export interface LookDesk extends LookScreensProps {
  readonly byId: ReadonlyMap<string, ReadRecord>;
  readonly state: LookState;
  readonly names: Names;
  readonly personOf: (signOn: string) => string | undefined;
  readonly onBack: () => void;
}

/** The person behind a sign-on: the proven one, or whoever is signed on here. */
export function personBehind({ authors, signOn }: Tablet, id: string): string | undefined {
  const present = signOn.value;
  return authors.value.get(id) ?? (present?.id === id ? present.person : undefined);
}

/** Add a record about the batch; its id once it is stored. */
export async function add({ tablet }: Desk, draft: Draft): Promise<string | undefined> {
  const answer = await tablet.add(draft);
  return answer.stored ? answer.record.id : undefined;
}

/** Differences of a look and of its batch that nobody has accepted. */
export function openDifferences({ ledger }: BenchState, look: string): BenchState["ledger"]["differences"] {
  return ledger.differences.filter((one) => [look, ""].includes(one.look) && one.accepted_by === "");
}
