// SPDX-License-Identifier: Apache-2.0
// The batches a tablet can work on: the server's dated list, and those in its own records.
import type { ReadRecord } from "../records/kinds.js";
import type { BatchLine } from "../sync/contract.js";

/** Newest first; a batch that stands in both comes from the list, which names its part. */
export function knownBatches(
  lines: readonly BatchLine[],
  records: readonly ReadRecord[],
  partOf: (definition: string) => string,
): readonly BatchLine[] {
  const found = new Map<string, BatchLine>();
  for (const { id, known, made_at } of records) {
    if (known?.kind !== "batch_opened") continue;
    const { number, pieces } = known.body;
    const { definition } = known;
    found.set(id, { batch: id, number, part: partOf(definition), definition, pieces, opened_at: made_at });
  }
  for (const line of lines) found.set(line.batch, line);
  return [...found.values()].sort(
    (left, right) => right.opened_at - left.opened_at || (left.number < right.number ? -1 : 1),
  );
}

/** What is offered without a number: a released batch has left, and is found by what stands on its card. */
export function inWork(batches: readonly BatchLine[]): readonly BatchLine[] {
  return batches.filter(({ released }) => released !== true);
}

/** Those whose number contains what was typed, whatever the case and the dashes. */
export function withNumber(batches: readonly BatchLine[], typed: string): readonly BatchLine[] {
  const wanted = bare(typed);
  return batches.filter((line) => bare(line.number).includes(wanted));
}

/** Those that bear just this number, as withNumber reads it; none bears no number at all. */
export function bearing(batches: readonly BatchLine[], number: string): readonly BatchLine[] {
  const wanted = bare(number);
  return wanted === "" ? [] : batches.filter((line) => bare(line.number) === wanted);
}

/** The one batch that bears just this number, as a scanner reads it from a card; none where two do. */
export function numbered(batches: readonly BatchLine[], scanned: string): BatchLine | undefined {
  const found = bearing(batches, scanned);
  return found.length === 1 ? found[0] : undefined;
}

function bare(text: string): string {
  return text.toUpperCase().replace(/[^\p{L}\p{N}]/gu, "");
}
