// SPDX-License-Identifier: Apache-2.0
// How urgent the sync words are. Work that waits a while is normal at a bench without network; the levels say when
// somebody should carry the tablet to where there is contact.
import type { SyncState } from "../sync/contract.js";

const MINUTE_MS = 60_000;
export const LATE_MS = 30 * MINUTE_MS;
export const VERY_LATE_MS = 8 * 60 * MINUTE_MS;
export const MANY = 200;

/** What no waiting mends. */
export const NO_WAITING_MENDS: readonly SyncState["contact"][] = ["forked", "behind", "cannot_write"];

export type SyncLevel = "calm" | "late" | "very_late" | "trouble";

export function syncLevel(state: SyncState, now: number): SyncLevel {
  const waited = state.oldestAt === undefined ? 0 : now - state.oldestAt;
  if (NO_WAITING_MENDS.includes(state.contact) || state.exceptions.length > 0) return "trouble";
  if (waited > VERY_LATE_MS) return "very_late";
  if (waited > LATE_MS || state.stored + state.sent > MANY) return "late";
  return "calm";
}
