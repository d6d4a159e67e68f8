// SPDX-License-Identifier: Apache-2.0
import { foundAt } from "../folds/gathered.js";
import type { ReadRecord, RecordOf } from "../records/kinds.js";

export type Change = RecordOf<"operation_changed">["body"]["what"];

/** How what an operation runs with is marked, as far as somebody said so: told last, or when a stint began. */
export function markOf(records: readonly ReadRecord[], operation: number, what: Change): string {
  let mark = "";
  let at = -Infinity;
  for (const record of records) {
    const said = saidBy(record, operation, what);
    const [when] = foundAt(record);
    if (said === undefined || when < at) continue;
    [mark, at] = [said, when];
  }
  return mark;
}

function saidBy({ known }: ReadRecord, operation: number, what: Change): string | undefined {
  if (known?.kind === "operation_changed") {
    const { body } = known;
    return body.operation === operation && body.what === what ? body.now : undefined;
  }
  if (known?.kind !== "operation_started" || known.body.operation !== operation) return undefined;
  const { tool, cast, cavities } = known.body;
  const begun: Partial<Record<Change, string | undefined>> = {
    die: tool,
    tool,
    cast,
    cavity: cavities?.join(" "),
  };
  return begun[what];
}
