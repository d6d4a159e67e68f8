// SPDX-License-Identifier: Apache-2.0
// What a press of a key means: a find, the echo of one, or the taking back of one.
import type { ReadRecord } from "../records/kinds.js";

/** A second press of one key within this time may be one find felt twice; tray end asks. */
export const QUICK_REPEAT_MS = 250;
/** How many of one's own entries in the open tray can be taken back with one tap each. */
export const UNDO_DEPTH = 20;

export interface Press {
  readonly key: string;
  readonly at: number;
}

/** `at` counts on a clock that never goes back, so a change of the tablet's time makes no echo. */
export function isQuickRepeat(before: Press | undefined, press: Press): boolean {
  return before?.key === press.key && press.at - before.at <= QUICK_REPEAT_MS;
}

/**
 * The find that the undo key takes back next, if any.
 *
 * records   everything the tablet holds
 * tray      the open tray
 * sign_on   the present one: nobody takes back what somebody else recorded
 * leaving   finds whose taking back is on its way to the store
 */
export function nextUndo(
  records: readonly ReadRecord[],
  tray: string,
  signOn: string,
  leaving: ReadonlySet<string>,
): ReadRecord | undefined {
  const takenBack = new Set(leaving);
  const entries: ReadRecord[] = [];
  for (const record of records) {
    if (record.sign_on !== signOn) continue;
    if (record.known?.kind === "record_withdrawn") takenBack.add(record.known.body.record);
    if (record.known?.kind === "defect_tallied" && record.known.body.tray === tray) entries.push(record);
  }
  return entries
    .sort((left, right) => right.n - left.n)
    .slice(0, UNDO_DEPTH)
    .find((entry) => !takenBack.has(entry.id));
}
