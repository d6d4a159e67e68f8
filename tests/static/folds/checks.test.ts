// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isDue } from "../../../static/src/folds/check_due.js";
import { exposureAt, foldChecks } from "../../../static/src/folds/checks.js";
import { billionths } from "../../../static/src/records/decimal.js";
import type { PartDefinition, ReadRecord } from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";

interface Vector {
  readonly definitions: Record<string, PartDefinition>;
  readonly proven: Record<string, string>;
  readonly records: readonly string[];
  readonly expect: object;
}

const files = import.meta.glob<Vector>("../../vectors/checks/*.json", { eager: true, import: "default" });
const SEED = 20261125;

function foldOf(vector: Vector, records: readonly ReadRecord[]): unknown {
  const definitions = new Map(Object.entries(vector.definitions));
  return foldChecks(records, definitions, new Map(Object.entries(vector.proven)));
}

describe("the checks at a machine", () => {
  it("have vectors to be held to", () => {
    expect(Object.keys(files).length).toBeGreaterThan(10);
  });

  it.each(Object.entries(files))("agree with %s", (_, vector) => {
    expect(foldOf(vector, vector.records.map(decode))).toMatchObject(vector.expect);
  });

  it.each(Object.entries(files))("are one state in every order, and for what came twice: %s", (_, vector) => {
    const records = vector.records.map(decode);
    const state = foldOf(vector, records);
    fc.assert(
      fc.property(fc.shuffledSubarray(records, { minLength: records.length }), (shuffled) => {
        expect(foldOf(vector, [...shuffled, ...shuffled.slice(0, 2)])).toEqual(state);
      }),
      { seed: SEED, numRuns: 20 },
    );
  });

  it.each(Object.entries(files))(
    "are due before the batch's opening has come, where its list names it: %s",
    (_, vector) => {
      const records = vector.records.map(decode);
      const definitions = new Map(Object.entries(vector.definitions));
      const proven = new Map(Object.entries(vector.proven));
      const openings = records.flatMap(({ known }) => (known?.kind === "batch_opened" ? [known] : []));
      const others = records.filter(({ known }) => known?.kind !== "batch_opened");
      expect(openings).toHaveLength(1);
      const [opening] = openings;
      expect(foldChecks(others, definitions, proven, opening?.definition)).toEqual(
        foldChecks(records, definitions, proven, "another"),
      );
    },
  );

  it("wait for pieces that were counted, and for the clock", () => {
    const due = {
      operation: 40,
      characteristic: 1,
      role: "in_process",
      left: 1,
      at_made: 25,
      at_time: 0,
    } as const;
    expect(isDue(due, "unknown", 0)).toBe(false);
    expect(isDue(due, 24, 0)).toBe(false);
    expect(isDue(due, 25, 0)).toBe(true);
    const hourly = { ...due, at_made: 0, at_time: 1000 };
    expect(isDue(hourly, "unknown", 999)).toBe(false);
    expect(isDue(hourly, "unknown", 1000)).toBe(true);
  });

  it("do not know the pieces any more after half an hour without a number", () => {
    const exposure = { operation: 40, characteristic: 1, last_good: "", pieces: 7 };
    const forge = { operation: 40, made: 7, told_at: 0, is_running: true };
    const half = 30 * 60 * 1000;
    expect(exposureAt(exposure, forge, half)).toBe(7);
    expect(exposureAt(exposure, forge, half + 1)).toBe("unknown");
    expect(exposureAt(exposure, { ...forge, is_running: false }, half + 1)).toBe(7);
  });
});

describe("numbers as gauges show them", () => {
  it("are compared without a binary fraction", () => {
    expect(billionths("0.40")).toBe(billionths("0.4"));
    expect(billionths("0.300000001") > billionths("0.3")).toBe(true);
    expect(billionths("-0.1") < billionths("0")).toBe(true);
    expect(billionths("999999999.999999999")).toBe(999_999_999_999_999_999n);
  });
});
