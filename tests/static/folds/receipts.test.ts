// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldHolds } from "../../../static/src/folds/holds.js";
import { foldReceipt, receiptOf, Receipts, sameCast, seenOf } from "../../../static/src/folds/receipts.js";
import type { MaterialDefinition, ReadRecord } from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";

interface Vector {
  readonly materials: Record<string, MaterialDefinition>;
  readonly proven: Record<string, string>;
  readonly batch: string;
  readonly records: readonly string[];
  readonly expect: { readonly receipts: Record<string, object>; readonly holds: readonly object[] };
}

const files = import.meta.glob<Vector>("../../vectors/receipts/*.json", { eager: true, import: "default" });

function answerOf({ materials, proven, batch, expect: wanted }: Vector, records: readonly ReadRecord[]) {
  const limits = new Map(Object.entries(materials));
  const persons = new Map(Object.entries(proven));
  const of = (receipt: string) => records.filter((record) => receiptOf(record) === receipt);
  const names = Object.keys(wanted.receipts);
  const receipts = Object.fromEntries(names.map((name) => [name, foldReceipt(of(name), limits, persons)]));
  const ofBatch = records.filter((record) => record.batch === batch || record.id === batch);
  const named = new Map(names.map((name) => [name, of(name)]));
  const { holds } = foldHolds(
    new Gathered(ofBatch, persons),
    new Map(),
    new Receipts(named, limits, persons),
  );
  return { receipts, holds };
}

describe("a receipt", () => {
  it("has vectors to be held to", () => {
    expect(Object.keys(files).length).toBeGreaterThan(10);
  });

  it.each(Object.entries(files))("agrees with %s in every order", (_, vector) => {
    const records = vector.records.map(decode);
    const found = answerOf(vector, records);
    expect(found).toMatchObject(vector.expect);
    expect(found.holds).toEqual(vector.expect.holds);
    fc.assert(
      fc.property(fc.shuffledSubarray(records, { minLength: records.length }), (shuffled) => {
        expect(answerOf(vector, [...shuffled, ...shuffled.slice(0, 2)])).toEqual(found);
      }),
      { seed: 20261128, numRuns: 20 },
    );
  });

  it("is seen as far as each chain says something of it here", () => {
    const vector = Object.values(files)[0];
    const records = vector?.records.map(decode) ?? [];
    const [receipt = ""] = records.flatMap((one) => receiptOf(one) ?? []);
    const seen = seenOf(receipt, records);
    for (const { chain, n } of seen) {
      const numbers = records.flatMap((one) =>
        receiptOf(one) === receipt && one.chain === chain ? one.n : [],
      );
      expect(n).toBe(Math.max(...numbers));
    }
    expect(seen.length).toBeGreaterThan(0);
  });

  it("knows its cast with or without what people put between", () => {
    expect(sameCast("C-4711", "c 4711")).toBe(true);
    expect(sameCast("ß1", "SS1")).toBe(false);
  });
});
