// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldHolds, type Holds } from "../../../static/src/folds/holds.js";
import type { PartDefinition, ReadRecord } from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";
import { Bench, DEFINITION, IDS, PART } from "./bench.js";
import { vectors } from "./write_hold_vectors.js";
import type { Vector } from "./write_vectors.js";

const files = import.meta.glob<Vector>("../../vectors/holds/*.json", {
  eager: true,
  import: "default",
});

function foldOf(vector: Vector, records: readonly ReadRecord[]): unknown {
  const definitions = new Map<string, PartDefinition>(Object.entries(vector.definitions));
  const proven = new Map(Object.entries(vector.proven));
  return JSON.parse(JSON.stringify(foldHolds(new Gathered(records, proven), definitions))) as unknown;
}

describe("the holds", () => {
  it("have vectors to be held to", () => {
    expect(Object.keys(files).length).toBeGreaterThan(10);
  });

  it.each(Object.entries(files))("agree with %s in every order", (_, vector) => {
    const records = vector.records.map((line) => decode(line));
    expect(foldOf(vector, records)).toEqual(vector.expect);
    fc.assert(
      fc.property(fc.shuffledSubarray(records, { minLength: records.length }), (shuffled) => {
        expect(foldOf(vector, [...shuffled, ...shuffled.slice(0, 2)])).toEqual(vector.expect);
      }),
      { seed: 20260101, numRuns: 50 },
    );
  });

  it("are held to the vectors that their own script writes", () => {
    for (const [name, vector] of Object.entries(vectors())) {
      expect(files[`../../vectors/holds/${name}.json`]).toEqual(vector);
    }
  });
});

describe("a hold", () => {
  const proven = new Map([
    [`${"a".repeat(26)}:2`, IDS.anna],
    [`${"b".repeat(26)}:2`, IDS.lea],
  ]);
  const fold = (...benches: Bench[]): Holds =>
    foldHolds(
      new Gathered(
        benches.flatMap((bench) => bench.ofBatch()),
        proven,
      ),
      new Map([[PART, DEFINITION]]),
    );

  it("is lifted by no observation and no request, whatever they are", () => {
    const acts = fc.array(
      fc.tuple(fc.constantFrom("take back", "ask", "second", "find", "decline"), fc.nat(40)),
      {
        maxLength: 25,
      },
    );
    fc.assert(
      fc.property(acts, (chosen) => {
        const anna = new Bench("a");
        anna.signOn(IDS.anna);
        const lea = new Bench("b");
        lea.signOn(IDS.lea);
        const server = new Bench("s");
        const tray = anna.openTray(1);
        const mark = anna.find(tray, "unset");
        for (const [act, number] of chosen) {
          const bench = number % 2 === 0 ? anna : lea;
          const all = [...anna.ofBatch(), ...lea.ofBatch()];
          const target = all[number % all.length]?.id ?? mark;
          if (act === "take back") bench.takeBack(target);
          else if (act === "ask") bench.askForLift(mark, target);
          else if (act === "second") bench.second(target);
          else if (act === "find") bench.find(tray, "unset", { piece: mark });
          else server.decline(target, "role");
        }
        const { holds } = fold(anna, lea, server);
        expect(holds.map((hold) => hold.id)).toContain(mark);
        expect(holds.filter((hold) => hold.lifted_by !== "")).toEqual([]);
      }),
      { seed: 20260102, numRuns: 100 },
    );
  });
});
