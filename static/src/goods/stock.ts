// SPDX-License-Identifier: Apache-2.0
// What came in, as lists show it, and what of it went to batches as far as this tablet knows.
import type { Receipt } from "../folds/receipts.js";
import type { MaterialDefinition, ReadRecord, RecordOf } from "../records/kinds.js";

export type BarsBody = RecordOf<"material_received">["body"];
export type ComponentsBody = RecordOf<"components_received">["body"];
export type IssueBody = RecordOf<"bars_issued">["body"];

/** A receipt with the body of the record that opened it; `state` is there for bars. */
export type ReceiptLine =
  | {
      readonly what: "bars";
      readonly id: string;
      readonly at: number;
      readonly body: BarsBody;
      readonly state: Receipt;
    }
  | { readonly what: "components"; readonly id: string; readonly at: number; readonly body: ComponentsBody };

export type BarsLine = Extract<ReceiptLine, { what: "bars" }>;
export type ComponentsLine = Extract<ReceiptLine, { what: "components" }>;

/** Receipts that stand, the newest first. */
export function receiptLines(
  receipts: ReadonlyMap<string, readonly ReadRecord[]>,
  fold: (records: readonly ReadRecord[]) => Receipt,
): readonly ReceiptLine[] {
  const lines: ReceiptLine[] = [];
  for (const [id, records] of receipts) {
    const opened = records.find((one) => one.id === id);
    const known = opened?.known;
    if (opened === undefined || isTakenBack(id, records)) continue;
    const at = opened.made_at;
    if (known?.kind === "material_received")
      lines.push({ what: "bars", id, at, body: known.body, state: fold(records) });
    if (known?.kind === "components_received") lines.push({ what: "components", id, at, body: known.body });
  }
  return lines.sort((left, right) => right.at - left.at || (left.id < right.id ? -1 : 1));
}

function isTakenBack(id: string, records: readonly ReadRecord[]): boolean {
  return records.some(({ known }) => known?.kind === "record_withdrawn" && known.body.record === id);
}

/** The newest limits of an alloy: for each order, and those that hold for every order, by their publication. */
export function limitsOf(
  alloy: string,
  materials: ReadonlyMap<string, MaterialDefinition>,
): ReadonlyMap<string, MaterialDefinition> {
  const newest = new Map<string, readonly [string, MaterialDefinition]>();
  for (const [id, material] of materials)
    if (material.alloy === alloy) newest.set(material.order ?? "", [id, material]);
  return new Map(newest.values());
}

/** The publication whose limits hold for a receipt: its order's, or else those of every order. */
export function limitsFor(
  { alloy, order }: BarsBody,
  materials: ReadonlyMap<string, MaterialDefinition>,
): string | undefined {
  const found = [...limitsOf(alloy, materials)];
  const own = found.find(([, material]) => material.order === order && order !== undefined);
  return (own ?? found.find(([, material]) => material.order === undefined))?.[0];
}

/** Bars that went to a batch, with their receipt where it is known here. */
export interface Issue {
  readonly id: string;
  readonly body: IssueBody;
  readonly line: BarsLine | undefined;
}

/** What of a batch's records says where its metal is from; what was taken back is not in it. */
export function issuesOf(
  ofBatch: readonly ReadRecord[],
  dead: ReadonlySet<string>,
  lines: readonly ReceiptLine[],
): readonly Issue[] {
  return ofBatch.flatMap(({ id, known }) => {
    if (known?.kind !== "bars_issued" || dead.has(id)) return [];
    const line = lines.find((one) => one.id === known.body.receipt);
    return [{ id, body: known.body, line: line?.what === "bars" ? line : undefined }];
  });
}

/** The casts that lie in a batch, each once. */
export function castsOf(issues: readonly Issue[]): readonly string[] {
  return [...new Set(issues.map(({ line, body }) => line?.body.cast ?? body.receipt))];
}
