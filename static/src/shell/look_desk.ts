// SPDX-License-Identifier: Apache-2.0
// What every page of a look works with.
import type { LookState } from "../bench/look_state.js";
import type { BenchState } from "../folds/bench.js";
import type { Draft, ReadRecord } from "../records/kinds.js";
import type { Names } from "../words/points.js";
import type { AtBatch, Desk } from "./bench_screens.js";

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

/** Add a record about the batch; its id once it is stored. */
export async function add({ tablet }: Desk, draft: Draft): Promise<string | undefined> {
  const answer = await tablet.add(draft);
  return answer.stored ? answer.record.id : undefined;
}

/** Differences of a look and of its batch that nobody has accepted. */
export function openDifferences({ ledger }: BenchState, look: string): BenchState["ledger"]["differences"] {
  return ledger.differences.filter((one) => [look, ""].includes(one.look) && one.accepted_by === "");
}
