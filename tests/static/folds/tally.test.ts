// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { paretoOf } from "../../../static/src/folds/pareto.js";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldTally } from "../../../static/src/folds/tally.js";
import type { PartDefinition, ReadRecord } from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";
import { Bench, DEFINITION, IDS, PART } from "./bench.js";
import { vectors as authorVectors } from "./write_author_vectors.js";
import { vectors as definitionVectors } from "./write_definition_vectors.js";
import { vectors, type Vector } from "./write_vectors.js";

const files = import.meta.glob<Vector>("../../vectors/tally/*.json", {
  eager: true,
  import: "default",
});

function foldOf(vector: Vector, records: readonly ReadRecord[]): unknown {
  const definitions = new Map<string, PartDefinition>(Object.entries(vector.definitions));
  const proven = new Map(Object.entries(vector.proven));
  return JSON.parse(JSON.stringify(foldTally(new Gathered(records, proven), definitions))) as unknown;
}

describe("the tally", () => {
  it("has vectors to be held to", () => {
    expect(Object.keys(files).length).toBeGreaterThan(0);
  });

  it.each(Object.entries(files))("agrees with %s in every order", (_, vector) => {
    const records = vector.records.map((line) => decode(line));
    expect(foldOf(vector, records)).toEqual(vector.expect);
    const seed = 20260101;
    fc.assert(
      fc.property(fc.shuffledSubarray(records, { minLength: records.length }), (shuffled) => {
        expect(foldOf(vector, [...shuffled, ...shuffled.slice(0, 2)])).toEqual(vector.expect);
      }),
      { seed, numRuns: 50 },
    );
  });

  it("is held to the vectors that its own script writes", () => {
    for (const [name, vector] of Object.entries({
      ...vectors(),
      ...authorVectors(),
      ...definitionVectors(),
    })) {
      expect(files[`../../vectors/tally/${name}.json`]).toEqual(vector);
    }
  });
});

describe("the Pareto of the tally", () => {
  const bench = new Bench("a");
  bench.signOn(IDS.anna);
  const tray = bench.openTray(1);
  const piece = bench.find(tray, "stain");
  bench.find(tray, "stain", { piece });
  bench.find(tray, "lap");
  bench.find(tray, "unset");
  bench.find(tray, "stain", { quick_repeat: true });
  const bars = paretoOf(foldTally(new Gathered(bench.ofBatch()), new Map([[PART, DEFINITION]])));

  it("puts the most first, and equal counts in the order of their names", () => {
    expect(bars.map((bar) => [bar.name, bar.count])).toEqual([
      ["stain", 2],
      ["lap", 1],
      ["unset", 1],
    ]);
  });

  it("counts a piece once however many marks it has", () => {
    expect(bars[0]?.pieces).toBe(1);
  });

  it("reaches exactly one", () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom("lap", "stain", "unset"), {
          minLength: 1,
          maxLength: 60,
        }),
        (words) => {
          const more = new Bench("c");
          more.signOn(IDS.ben);
          for (const word of words) more.find(tray, word);
          const last = paretoOf(foldTally(new Gathered(more.ofBatch()), new Map([[PART, DEFINITION]]))).at(
            -1,
          );
          expect(last?.cumulative).toBe(1);
        },
      ),
    );
  });

  it("of nothing has no bars", () => {
    expect(paretoOf(foldTally(new Gathered([]), new Map()))).toEqual([]);
  });
});
