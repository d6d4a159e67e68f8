// SPDX-License-Identifier: Apache-2.0
// What a press of a key means: a find, the echo of one, or the taking back of an entry.
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

/** The entry that the undo key takes back next, if any; the parameters are those of `standingEntries`. */
export function nextUndo(
  records: readonly ReadRecord[],
  tray: string,
  signOn: string,
  leaving: ReadonlySet<string>,
): ReadRecord | undefined {
  return entriesOf(records, tray, signOn, leaving)
    .slice(0, UNDO_DEPTH)
    .find(({ isStanding }) => isStanding)?.record;
}

/**
 * Finds in a tray, and judgements of pieces that were found in it, by one sign-on; those that stand, newest first.
 *
 * records   everything the tablet holds
 * tray      the open tray
 * signOn    the present one: nobody takes back what somebody else recorded
 * leaving   entries whose taking back is on its way to the store
 */
export function standingEntries(
  records: readonly ReadRecord[],
  tray: string,
  signOn: string,
  leaving: ReadonlySet<string>,
): readonly ReadRecord[] {
  return entriesOf(records, tray, signOn, leaving).flatMap(({ record, isStanding }) =>
    isStanding ? [record] : [],
  );
}

interface OwnEntry {
  readonly record: ReadRecord;
  readonly isStanding: boolean;
}

/** The same with those that were taken back, which count for how far back a tap reaches. */
function entriesOf(
  records: readonly ReadRecord[],
  tray: string,
  signOn: string,
  leaving: ReadonlySet<string>,
): readonly OwnEntry[] {
  const takenBack = new Set(leaving);
  // A judgement names no tray: it belongs where its piece was found, at the same look.
  const found = new Set<string>();
  const own: ReadRecord[] = [];
  for (const record of records) {
    const { known } = record;
    if (known?.kind === "defect_tallied" && known.body.tray === tray)
      found.add(`${known.body.look} ${known.body.piece ?? record.id}`);
    if (record.sign_on !== signOn) continue;
    if (known?.kind === "record_withdrawn") takenBack.add(known.body.record);
    else own.push(record);
  }
  return own
    .filter(({ known }) =>
      known?.kind === "piece_judged"
        ? found.has(`${known.body.look} ${known.body.piece}`)
        : known?.kind === "defect_tallied" && known.body.tray === tray,
    )
    .sort((left, right) => right.n - left.n)
    .map((record) => ({ record, isStanding: !takenBack.has(record.id) }));
}
