// SPDX-License-Identifier: Apache-2.0
// How far a look is, by the trays this tablet knows.
import type { Proof } from "../folds/sign_ons.js";
import type { Tally, Tray } from "../folds/tally.js";
import type { ReadRecord } from "../records/kinds.js";

export interface LookState {
  readonly trays: readonly Tray[];
  /** Open trays of this tablet's own chain: they can be gone on with. */
  readonly own: readonly Tray[];
  readonly nextNumber: number;
  /** Pieces of trays whose closing has a proven author. */
  readonly lookedAt: number;
  /** Pieces of closed trays that count as looked at once it is proven who closed them. */
  readonly waiting: number;
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
    lookedAt: trays.reduce((sum, tray) => sum + (isProven(tray) ? piecesOf(tray, records) : 0), 0),
    waiting: trays.reduce((sum, tray) => sum + (isProven(tray) ? 0 : piecesOf(tray, records)), 0),
  };
}

/** A tray this tablet closed under a sign-on that is not proven, and whose it says it is. */
export interface AwaitingAuthor {
  readonly tray: Tray;
  readonly lookedAt: number;
  /** What was done in it under these is confirmed together. */
  readonly signOns: readonly string[];
}

/**
 * The closed trays of this tablet that do not count as looked at until somebody proves to be their author.
 *
 * One whose PIN is not judged yet is left out: it proves itself as soon as there is contact.
 */
export function awaitingAuthor(
  tally: Tally,
  records: ReadonlyMap<string, ReadRecord>,
  look: string,
  chain: string,
  proof: (signOn: string) => Proof,
): readonly AwaitingAuthor[] {
  const isOurs = (signOn: string): boolean =>
    chainOf(signOn) === chain && ["none", "not_proven"].includes(proof(signOn));
  return tally.trays.flatMap((tray) => {
    if (tray.look !== look || isOpen(tray) || isProven(tray)) return [];
    const closed = tray.unproven.map((id) => records.get(id)?.sign_on ?? "");
    const marked = tally.marks.filter((mark) => mark.tray === tray.id && mark.author === "");
    const signOns = [...new Set([...closed, ...marked.map((mark) => mark.sign_on)])].filter(isOurs);
    return closed.some(isOurs) ? [{ tray, lookedAt: piecesOf(tray, records), signOns }] : [];
  });
}

export function isOpen(tray: Tray): boolean {
  return tray.closings.length === 0;
}

/** True when somebody proven says that all of the tray was looked at. */
export function isProven(tray: Tray): boolean {
  return tray.unproven.length < tray.closings.length;
}

export function chainOf(id: string): string {
  return id.split(":")[0] ?? "";
}

/** Pieces of a closed tray; closings that differ are shown as such and counted by the first, proven before not. */
function piecesOf(tray: Tray, records: ReadonlyMap<string, ReadRecord>): number {
  const first = tray.closings.find((id) => !tray.unproven.includes(id)) ?? tray.closings[0];
  const closing = records.get(first ?? "")?.known;
  if (closing?.kind !== "tray_closed") return 0;
  return closing.body.places - closing.body.empty_counted;
}
