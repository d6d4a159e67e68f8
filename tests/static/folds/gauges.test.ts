// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dayOf, Gauges } from "../../../static/src/folds/gauges.js";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldHolds } from "../../../static/src/folds/holds.js";
import { NO_RECEIPTS } from "../../../static/src/folds/receipts.js";
import { foundAt } from "../../../static/src/folds/gathered.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";

interface Vector {
  readonly proven: Record<string, string>;
  readonly vouching: readonly string[];
  readonly zone: string;
  readonly measured: Record<string, string>;
  readonly batch: string;
  readonly records: readonly string[];
  readonly expect: {
    readonly gauges: Record<string, object>;
    readonly standings: Record<string, string>;
    readonly holds: readonly object[];
  };
}

const files = import.meta.glob<Vector>("../../vectors/gauges/*.json", { eager: true, import: "default" });

function answerOf(vector: Vector, records: readonly ReadRecord[]) {
  const { zone, measured, batch } = vector;
  const proven = new Map(Object.entries(vector.proven));
  const ofBatch = records.filter((record) => record.batch === batch || record.id === batch);
  const about = records.filter((record) => !ofBatch.includes(record));
  const gauges = new Gauges(about, proven, new Set(vector.vouching));
  const standings = Object.fromEntries(
    records.flatMap(({ id, known }) => {
      if (known?.kind !== "check_taken" || known.body.gauge === undefined) return [];
      const { gauge, operation, characteristic } = known.body;
      const at = foundAt(known)[0];
      const with_ = measured[`${operation} ${characteristic}`] ?? "";
      return [[id, gauges.of(gauge).standingAt({ at, id }, dayOf(at, zone), with_)]];
    }),
  );
  const { holds } = foldHolds(new Gathered(ofBatch, proven), new Map(), NO_RECEIPTS, gauges);
  const named = Object.keys(vector.expect.gauges);
  const states = named.map((name) => {
    const { number, known, kinds, checks, dues } = gauges.of(name);
    return [name, { number, known, kinds, checks, dues }] as const;
  });
  return { gauges: Object.fromEntries(states), standings, holds };
}

describe("a gauge", () => {
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
      { seed: 20261129, numRuns: 20 },
    );
  });

  it("is due by the works' own day, and no clock breaks it", () => {
    expect(dayOf(1_789_423_200_000, "Europe/Berlin")).toBe("2026-09-15");
    expect(dayOf(1_789_423_199_999, "Europe/Berlin")).toBe("2026-09-14");
    expect(dayOf(2 ** 53, "UTC")).toBe("9999-12-31");
    expect(dayOf(-(2 ** 53), "UTC")).toBe("1970-01-01");
  });
});
