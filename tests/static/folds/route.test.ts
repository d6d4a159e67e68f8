// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { foldRoute } from "../../../static/src/folds/route.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";

interface Vector {
  readonly proven: Record<string, string>;
  readonly records: readonly string[];
  readonly expect: object;
}

const files = import.meta.glob<Vector>("../../vectors/route/*.json", { eager: true, import: "default" });
const SEED = 20261125;

function foldOf(vector: Vector, records: readonly ReadRecord[]): unknown {
  return foldRoute(records, new Map(Object.entries(vector.proven)));
}

describe("the route of a batch", () => {
  it("has vectors to be held to", () => {
    expect(Object.keys(files).length).toBeGreaterThan(10);
  });

  it.each(Object.entries(files))("agrees with %s", (_, vector) => {
    expect(foldOf(vector, vector.records.map(decode))).toMatchObject(vector.expect);
  });

  it.each(Object.entries(files))("is one state in every order, and for what came twice: %s", (_, vector) => {
    const records = vector.records.map(decode);
    const state = foldOf(vector, records);
    fc.assert(
      fc.property(fc.shuffledSubarray(records, { minLength: records.length }), (shuffled) => {
        expect(foldOf(vector, [...shuffled, ...shuffled.slice(0, 2)])).toEqual(state);
      }),
      { seed: SEED, numRuns: 20 },
    );
  });
});
