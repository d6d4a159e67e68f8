// SPDX-License-Identifier: Apache-2.0
// What the core knows as the words of every screen: counts over all chains of this tablet.
import type { ReadRecord } from "../records/kinds.js";
import type { SyncState } from "./contract.js";
import type { CoreState } from "./core.js";
import { endOf, type Sending } from "./outbox.js";

/**
 * core     the core's state
 * madeAt   when the record n of a chain was made
 * heardAt  when the server was last heard
 */
export function syncStateOf(
  core: CoreState,
  own: (chain: string) => readonly ReadRecord[],
  heardAt: number | undefined,
): SyncState {
  const chains = [...core.former, core.sending];
  const { halted } = core.sending;
  const ended = core.session === "ended" ? "session_ended" : undefined;
  // Only a chain of which something waits is looked through.
  const oldest = chains
    .filter(isWaiting)
    .map((one) => own(one.chain)[one.confirmed - one.base.n]?.made_at ?? Infinity);
  const pictures = core.photos.filter((one) => one.state === "waiting").length;
  // Of interest while something waits to be kept, and to nobody else.
  const isInVain = core.cannotWrite && (oldest.length > 0 || pictures > 0);
  return {
    stored: sum(chains, (one) => Math.max(0, endOf(one) - Math.max(one.reached, one.confirmed))),
    sent: sum(chains, (one) => Math.max(0, one.reached - one.confirmed)),
    confirmed: sum(chains, (one) => one.confirmed),
    pictures,
    oldestAt: oldest.length === 0 ? undefined : Math.min(...oldest),
    contact: halted ?? (core.isHeard ? (ended ?? (isInVain ? "cannot_write" : "server")) : "none"),
    heardAt,
    certificateEndsAt: core.copies.certificateEndsAt === 0 ? undefined : core.copies.certificateEndsAt,
    exceptions: chains.flatMap(({ chain, exceptions }) => exceptions.map((one) => ({ chain, ...one }))),
  };
}

/** True while the server has not answered for all of the chain. */
export function isWaiting(sending: Sending): boolean {
  return sending.confirmed < endOf(sending);
}

function sum(chains: readonly Sending[], count: (one: Sending) => number): number {
  return chains.reduce((total, one) => total + count(one), 0);
}
