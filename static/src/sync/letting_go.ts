// SPDX-License-Identifier: Apache-2.0
// Which of the tablet's own records may leave its journal. Never for age, tries, logout or version.
//
// A record may leave when the server's mark covers it with our hash, a verified copy of the log holds it, and its batch
// is closed. No batch is closed before there are releases. Until then only a chain that was left behind leaves, as a
// whole, and only while the tablet carries no batch it wrote about: a batch that is taken up later is fetched whole, and
// the pull leaves out the chain in use alone.
import type { CoreState } from "./core_state.js";
import type { Sending } from "./outbox.js";

/** Why a chain stays in the journal. */
export type Stays = "in_use" | "not_safe" | "batch_carried" | "has_exceptions" | "pin_not_judged";

export function whyStays(state: CoreState, chain: string): Stays | undefined {
  const former = state.former.find((one) => one.chain === chain);
  if (former === undefined) return "in_use";
  if (former.safe < former.own.length) return "not_safe";
  const carried = new Set(Object.keys(state.copies.pairs).map((pair) => pair.split("/")[0]));
  if (former.own.some(({ batch }) => batch !== undefined && carried.has(batch))) return "batch_carried";
  if (former.exceptions.length > 0) return "has_exceptions";
  return state.enclosed.some((one) => one.chain === chain) ? "pin_not_judged" : undefined;
}

/** The chains that may leave now; none unless nothing waits to be sent or answered. */
export function mayLeave(state: CoreState): readonly string[] {
  const isBusy =
    state.underWay !== undefined || state.isTurning || state.asksMark || state.keeping !== undefined;
  if (isBusy || state.sending.confirmed < state.sending.own.length) return [];
  return state.former.map(({ chain }) => chain).filter((chain) => whyStays(state, chain) === undefined);
}

/** How far a chain is safe by what a mark says of it: only as far as the mark itself, and only with our hash there. */
export function safeBy({ own }: Sending, mark: { n: number; hash: string; safe: number }): number {
  return mark.n > 0 && own[mark.n - 1]?.hash === mark.hash ? Math.min(mark.n, mark.safe) : 0;
}
