// SPDX-License-Identifier: Apache-2.0
// How far a look is: its cards, what lies in whose hands, and what is left, by the records this tablet knows.
import type { BenchState } from "../folds/bench.js";
import type { LookCount } from "../folds/ledger.js";
import type { Proof } from "../folds/sign_ons.js";
import { byId, foundAt, withdrawn } from "../folds/gathered.js";
import type { Tally, Tray } from "../folds/tally.js";
import type { ReadRecord } from "../records/kinds.js";

type Records = ReadonlyMap<string, ReadRecord>;

/** An open tray was left to somebody else, looked at up to a place. */
export interface Left {
  readonly given: string;
  readonly place: number;
  readonly at: number;
}

/** An open tray and where it is: at the tablet that opened it, or took it over last. */
export interface InHand {
  readonly tray: Tray;
  readonly chain: string;
  readonly device: string;
  readonly signOn: string;
  readonly since: number;
  /** Undefined while somebody has it in hand. */
  readonly left: Left | undefined;
}

/** A closed tray: where and when it was begun, and the pieces its closing states. */
export interface Closed {
  readonly tray: Tray;
  readonly device: string;
  readonly at: number;
  readonly pieces: number;
}

/** All that was opened under one number. `due` is 0 where no card names it. */
export interface TrayCard {
  readonly number: number;
  readonly due: number;
  readonly closed: readonly Closed[];
  readonly open: readonly InHand[];
}

export interface LookState {
  /** The ledger's page; undefined while nothing was recorded in this look. */
  readonly page: LookCount | undefined;
  /** Pieces that were counted in; undefined while nobody proven did. */
  readonly due: number | undefined;
  readonly cards: readonly TrayCard[];
  /** Open trays in hand at this tablet: they can be gone on with. */
  readonly own: readonly InHand[];
  /** The tray that is begun next: the first due one, or without cards the lowest free number. */
  readonly nextNumber: number | undefined;
  /** Pieces of trays whose closing has a proven author. */
  readonly lookedAt: number;
  /** Pieces of closed trays that count as looked at once it is proven who closed them. */
  readonly waiting: number;
}

export function lookState(
  { tally, ledger }: BenchState,
  records: Records,
  proven: ReadonlyMap<string, string>,
  look: string,
  chain: string,
): LookState {
  const page = ledger.looks.find((one) => one.look === look);
  const trays = tally.trays.filter((tray) => tray.look === look);
  const hands = handsOf(records, proven);
  const cards = (page?.trays ?? []).map(({ number, due }) => {
    const here = trays.filter((tray) => tray.number === number);
    const open = here.filter(isOpen).flatMap((tray) => inHand(tray, records, hands) ?? []);
    const closed = here
      .filter((tray) => !isOpen(tray))
      .map((tray) => {
        const opened = records.get(tray.id);
        const device = opened?.known?.device ?? "";
        return {
          tray,
          device,
          at: opened === undefined ? 0 : timeOf(opened),
          pieces: piecesOf(tray, records),
        };
      });
    return { number, due, closed, open };
  });
  const isCounted = (page?.counted_by ?? "") !== "";
  const free = cards.find((card) => card.due > 0 && card.closed.length + card.open.length === 0)?.number;
  return {
    page,
    due: isCounted ? page?.due : undefined,
    cards,
    own: cards.flatMap((card) => card.open).filter((one) => one.chain === chain && one.left === undefined),
    nextNumber: isCounted ? free : lowestFree(new Set(trays.map((tray) => tray.number))),
    lookedAt: page?.looked ?? 0,
    waiting: trays.reduce((sum, tray) => sum + (isProven(tray) ? 0 : piecesOf(tray, records)), 0),
  };
}

function lowestFree(taken: ReadonlySet<number>): number {
  let number = 1;
  while (taken.has(number)) number += 1;
  return number;
}

/** The takings over and leavings that stand, by tray, the newest last. */
function handsOf(records: Records, proven: ReadonlyMap<string, string>): ReadonlyMap<string, ReadRecord[]> {
  const { dead } = withdrawn(records, proven);
  const found = new Map<string, ReadRecord[]>();
  for (const record of records.values()) {
    const { known } = record;
    if (known?.kind !== "handover_given" && known?.kind !== "handover_taken") continue;
    if (dead.has(record.id)) continue;
    found.set(known.body.tray, [...(found.get(known.body.tray) ?? []), record]);
  }
  for (const list of found.values())
    list.sort((one, other) => timeOf(one) - timeOf(other) || byId(one.id, other.id));
  return found;
}

function inHand(tray: Tray, records: Records, hands: ReadonlyMap<string, ReadRecord[]>): InHand | undefined {
  const passed = hands.get(tray.id) ?? [];
  const taken = passed.filter(({ known }) => known?.kind === "handover_taken");
  const holder = taken.at(-1) ?? records.get(tray.id);
  if (holder?.known === undefined) return undefined;
  const answered = new Set(
    taken.flatMap(({ known }) => (known?.kind === "handover_taken" ? (known.body.given ?? []) : [])),
  );
  const left = passed
    .filter((one) => !answered.has(one.id) && timeOf(one) >= timeOf(holder))
    .flatMap((one): Left[] =>
      one.known?.kind === "handover_given"
        ? [{ given: one.id, place: one.known.body.place, at: timeOf(one) }]
        : [],
    )
    .at(-1);
  const { chain, device } = holder.known;
  return { tray, chain, device, signOn: holder.sign_on ?? "", since: timeOf(holder), left };
}

function timeOf({ known, made_at }: ReadRecord): number {
  return known === undefined ? made_at : foundAt(known)[0];
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
  records: Records,
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
export function piecesOf(tray: Tray, records: Records): number {
  const first = tray.closings.find((id) => !tray.unproven.includes(id)) ?? tray.closings[0];
  const closing = records.get(first ?? "")?.known;
  if (closing?.kind !== "tray_closed") return 0;
  return closing.body.places - closing.body.empty_counted;
}
