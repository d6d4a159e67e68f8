// SPDX-License-Identifier: Apache-2.0
import { isOfLook } from "../folds/seen.js";
import type { ReadRecord, RecordOf } from "../records/kinds.js";

/**
 * How far whoever signs a look has seen each chain: by what this tablet holds of it.
 *
 * Records of other looks are left out. This tablet may hold few of them, and none that it is shown.
 */
export function seenOfLook(
  records: Iterable<ReadRecord>,
  look: string,
): RecordOf<"look_signed">["body"]["seen"] {
  const upTo = new Map<string, number>();
  for (const record of records) {
    const body: object = record.known?.body ?? {};
    if ("look" in body && !isOfLook(record, look)) continue;
    // What was admitted stands in the chain of its admission.
    const [chain = "", n = "0"] = record.id.split(":");
    upTo.set(chain, Math.max(upTo.get(chain) ?? 0, Number(n)));
  }
  return [...upTo]
    .map(([chain, n]) => ({ chain, n }))
    .sort((left, right) => (left.chain < right.chain ? -1 : 1));
}
