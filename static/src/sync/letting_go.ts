// SPDX-License-Identifier: Apache-2.0
// Which of the tablet's own records may leave its journal. Never for age, tries, logout or version.
//
// A record may leave when the server's mark covers it with our hash, a verified copy of the log holds it, and the tablet
// carries no batch it is about: one that is taken up later is fetched whole, with what left. A chain that was left behind
// leaves as a whole; the chain in use from its beginning, and only when so much may leave that a new file is worth it.
import type { CoreState, Leaving } from "./core_state.js";
import { endOf, hashAt, type Sending } from "./outbox.js";

/** Why records stay in the journal. */
export type Stays = "in_use" | "not_safe" | "batch_carried" | "has_exceptions" | "pin_not_judged" | "too_few";

export function whyStays(state: CoreState, chain: string): Stays | undefined {
  const former = state.former.find((one) => one.chain === chain);
  if (former === undefined) return "in_use";
  if (former.safe < endOf(former)) return "not_safe";
  const carried = batchesCarried(state);
  if (former.own.some(({ batch }) => batch !== undefined && carried.has(batch))) return "batch_carried";
  if (former.exceptions.length > 0) return "has_exceptions";
  return state.enclosed.some((one) => one.chain === chain) ? "pin_not_judged" : undefined;
}

/** How far the chain in use may leave, from its beginning; or why nothing of it may. */
export function leavingUpTo(state: CoreState): number | Stays {
  const { sending, fewestLeaving: fewest } = state;
  const { base, own } = sending;
  // The newest record stays: it says which chain this is, and where it goes on.
  const safe = Math.min(sending.safe, sending.confirmed, endOf(sending) - 1);
  if (safe - base.n < fewest) return safe <= base.n ? "not_safe" : "too_few";
  const carried = batchesCarried(state);
  const exception = Math.min(Infinity, ...sending.exceptions.map(({ n }) => n));
  const enclosed = state.enclosed.filter(({ chain }) => chain === sending.chain).map(({ n }) => n);
  const ends: readonly (readonly [Stays, number])[] = [
    ["batch_carried", base.n + 1 + placeOf(own, ({ batch }) => batch !== undefined && carried.has(batch))],
    ["has_exceptions", exception],
    ["pin_not_judged", Math.min(Infinity, ...enclosed)],
  ];
  const [why, first] = ends.reduce((least, end) => (end[1] < least[1] ? end : least));
  const upTo = withSignOns(sending, Math.min(safe, first - 1));
  if (upTo - base.n >= fewest) return upTo;
  return first <= safe ? why : "too_few";
}

/** What may leave now; nothing unless all was sent and answered. */
export function mayLeave(state: CoreState): Leaving | undefined {
  const isBusy =
    state.underWay !== undefined || state.isTurning || state.asksMark || state.keeping !== undefined;
  // A page on its way was asked for while this tablet still held its own records.
  if (isBusy || state.pull.isUnderWay || state.sending.confirmed < endOf(state.sending)) return undefined;
  const chains = state.former
    .map(({ chain }) => chain)
    .filter((chain) => whyStays(state, chain) === undefined);
  const end = leavingUpTo(state);
  const upTo = typeof end === "number" ? end : 0;
  return chains.length > 0 || upTo > 0 ? { chains, upTo } : undefined;
}

/** A chain whose records up to a number left the journal. */
export function without(sending: Sending, upTo: number): Sending {
  const { base, own } = sending;
  if (upTo <= base.n) return sending;
  return { ...sending, base: { n: upTo, hash: hashAt(sending, upTo) ?? "" }, own: own.slice(upTo - base.n) };
}

function batchesCarried(state: CoreState): ReadonlySet<string | undefined> {
  return new Set(Object.keys(state.copies.pairs).map((pair) => pair.split("/")[0]));
}

/** So far back that the sign-on of each record that stays, stays too: it says who made it. */
function withSignOns({ base, own }: Sending, upTo: number): number {
  let end = upTo;
  for (let place = own.length - 1; base.n + place + 1 > end; place -= 1) {
    const under = own[place]?.under ?? Infinity;
    if (under > base.n) end = Math.min(end, under - 1);
  }
  return end;
}

function placeOf<T>(items: readonly T[], is: (item: T) => boolean): number {
  const place = items.findIndex(is);
  return place < 0 ? Infinity : place;
}
