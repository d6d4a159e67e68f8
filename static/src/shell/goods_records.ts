// SPDX-License-Identifier: Apache-2.0
// What this tablet holds of receipts, and whose word counts here: the server judges sign-ons of other tablets, and
// tells this one of those in the batches it carries alone, so what others said of a receipt is taken as theirs.
import { materialDefinitions } from "../definitions/published.js";
import { Receipts, receiptOf } from "../folds/receipts.js";
import type { ReadRecord } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";

type Proven = ReadonlyMap<string, string>;

/** Records by the receipt they say something of. */
export function byReceipt(records: readonly ReadRecord[]): ReadonlyMap<string, readonly ReadRecord[]> {
  const found = new Map<string, ReadRecord[]>();
  for (const record of records) {
    const receipt = receiptOf(record);
    if (receipt === undefined) continue;
    const of = found.get(receipt);
    if (of === undefined) found.set(receipt, [record]);
    else of.push(record);
  }
  return found;
}

/** Persons by sign-on, with those of whom nothing is known here; of this tablet's own only what may be proven. */
export function trusted(records: Iterable<ReadRecord>, tablet: Tablet): Proven {
  const found = new Map(tablet.authors.value);
  const own = tablet.signOn.value?.id.split(":")[0];
  for (const { sign_on: name, chain } of records) {
    if (name === undefined || found.has(name)) continue;
    if (chain !== own || tablet.proofOf(name) === "waiting") found.set(name, name);
  }
  return found;
}

/** The receipts a batch is made of, for its folds. */
export function receiptsOf(
  ofBatch: readonly ReadRecord[],
  records: readonly ReadRecord[],
  tablet: Tablet,
): Receipts | undefined {
  const named = new Set(
    ofBatch.flatMap(({ known }) => (known?.kind === "bars_issued" ? [known.body.receipt] : [])),
  );
  if (named.size === 0) return undefined;
  const about = records.filter((record) => named.has(receiptOf(record) ?? ""));
  return new Receipts(byReceipt(about), materialDefinitions(records), trusted(about, tablet));
}
