// SPDX-License-Identifier: Apache-2.0
// How long somebody has looked without a rest. A tap says nothing about the pieces that needed none, so that only a
// tray left lying, or somebody's word, is taken for a rest.
import type { ReadRecord } from "../records/kinds.js";

const MINUTE_MS = 60_000;
/** So long nobody looks well without a rest, and a rest is at least so long. */
export const LONGEST_LOOKING_MS = 25 * MINUTE_MS;
export const SHORTEST_REST_MS = 5 * MINUTE_MS;

/**
 * Since when one sign-on has looked without a rest; undefined before its first act. Behind a rest that was told it
 * counts from the telling.
 */
export function lookingSince(records: readonly ReadRecord[], signOn: string): number | undefined {
  let since: number | undefined;
  let putDownAt: number | undefined;
  const own = records.filter((record) => record.sign_on === signOn);
  for (const { kind, made_at } of own.sort((left, right) => left.n - right.n)) {
    if (kind === "break_taken") since = made_at;
    if (kind === "tray_closed" || kind === "handover_given") putDownAt = made_at;
    if (!["tray_opened", "handover_taken", "defect_tallied", "piece_judged"].includes(kind)) continue;
    const hasRested = putDownAt !== undefined && made_at - putDownAt >= SHORTEST_REST_MS;
    if (since === undefined || hasRested) since = made_at;
    putDownAt = undefined;
  }
  return since;
}

export function isRestDue(since: number | undefined, now: number): boolean {
  return since !== undefined && now - since >= LONGEST_LOOKING_MS;
}
