// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { foldBench } from "../../../static/src/folds/bench.js";
import type { PartDefinition, ReadRecord } from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";
import { vectors as benchVectors } from "./write_bench_vectors.js";
import { vectors as lookVectors } from "./write_look_vectors.js";
import type { Vector } from "./write_vectors.js";

const files = import.meta.glob<Vector>("../../vectors/bench/*.json", { eager: true, import: "default" });
const SEED = 20261125;

function foldOf(vector: Vector, records: readonly ReadRecord[]): unknown {
  const definitions = new Map<string, PartDefinition>(Object.entries(vector.definitions));
  const proven = new Map(Object.entries(vector.proven));
  return JSON.parse(JSON.stringify(foldBench(records, definitions, proven))) as unknown;
}

describe("the folds of the bench", () => {
  it("have vectors to be held to", () => {
    expect(Object.keys(files).length).toBeGreaterThan(50);
  });

  it.each(Object.entries(files))("agree with %s", (_, vector) => {
    expect(foldOf(vector, vector.records.map(decode))).toMatchObject(vector.expect);
  });

  it.each(Object.entries(files))(
    "give one state in every order, and for what came twice: %s",
    (_, vector) => {
      const records = vector.records.map(decode);
      const state = foldOf(vector, records);
      fc.assert(
        fc.property(fc.shuffledSubarray(records, { minLength: records.length }), (shuffled) => {
          expect(foldOf(vector, [...shuffled, ...shuffled.slice(0, 2)])).toEqual(state);
        }),
        { seed: SEED, numRuns: 20 },
      );
    },
  );

  it("are held to the vectors that their own scripts write", () => {
    const written = Object.entries({ ...benchVectors(), ...lookVectors() });
    expect(written.length).toBe(Object.keys(files).length);
    for (const [name, vector] of written) {
      expect(files[`../../vectors/bench/${name}.json`]).toEqual(JSON.parse(JSON.stringify(vector)));
    }
  });
});
