// SPDX-License-Identifier: Apache-2.0
// Where a tray that was left by somebody is gone on with.
import { foundAt } from "../folds/gathered.js";
import type { ReadRecord } from "../records/kinds.js";

/** The first place that is still to be looked at, by the newest hand-over; undefined where none says it. */
export function goesOnFrom(records: ReadonlyMap<string, ReadRecord>, tray: string): number | undefined {
  let newest = -Infinity;
  let from: number | undefined;
  for (const { known } of records.values()) {
    if (known?.kind !== "handover_given" && known?.kind !== "handover_taken") continue;
    const [at] = foundAt(known);
    if (known.body.tray !== tray || at < newest) continue;
    newest = at;
    const given = known.kind === "handover_given" ? known : records.get(known.body.given ?? "")?.known;
    const isFromFirst = known.kind === "handover_taken" && known.body.from_first === true;
    from = isFromFirst ? 1 : given?.kind === "handover_given" ? given.body.place + 1 : undefined;
  }
  return from;
}
