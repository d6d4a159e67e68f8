// SPDX-License-Identifier: Apache-2.0
// How far a look is, by the trays this tablet knows.
import type { Tally, Tray } from "../folds/tally.js";
import type { ReadRecord } from "../records/kinds.js";

export interface LookState {
  readonly trays: readonly Tray[];
  /** Open trays of this tablet's own chain: they can be gone on with. */
  readonly own: readonly Tray[];
  readonly nextNumber: number;
  readonly lookedAt: number;
}

export function lookState(
  tally: Tally,
  records: ReadonlyMap<string, ReadRecord>,
  look: string,
  chain: string,
): LookState {
  const trays = tally.trays.filter((tray) => tray.look === look);
  const taken = new Set(trays.map((tray) => tray.number));
  let nextNumber = 1;
  while (taken.has(nextNumber)) nextNumber += 1;
  return {
    trays,
    own: trays.filter((tray) => isOpen(tray) && chainOf(tray.id) === chain),
    nextNumber,
    lookedAt: trays.reduce((sum, tray) => sum + lookedAtIn(tray, records), 0),
  };
}

export function isOpen(tray: Tray): boolean {
  return tray.closings.length === 0;
}

export function chainOf(id: string): string {
  return id.split(":")[0] ?? "";
}

/** Pieces of a closed tray; closings that differ are shown as such and counted by the first. */
function lookedAtIn(tray: Tray, records: ReadonlyMap<string, ReadRecord>): number {
  const closing = records.get(tray.closings[0] ?? "")?.known;
  if (closing?.kind !== "tray_closed") return 0;
  return closing.body.places - closing.body.empty_counted;
}
