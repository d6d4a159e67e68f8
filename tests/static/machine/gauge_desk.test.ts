// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { Gauges } from "../../../static/src/folds/gauges.js";
import { GaugeDesk } from "../../../static/src/machine/gauge_desk.js";
import type { Characteristic, ReadRecord } from "../../../static/src/records/kinds.js";

const CALLIPER = { operation: 40, characteristic: 1, gauge: "calliper, cold piece" } as Characteristic;
const BY_EYE = { operation: 40, characteristic: 2 } as Characteristic;
const DAY_MS = 86_400_000;
const NOON = Date.UTC(2026, 10, 25, 12);
const own = (n: number): string => `${"a".repeat(26)}:${n}`;

function record(n: number, kind: string, body: object, sign_on = own(1)): ReadRecord {
  const known = { kind, v: 1, made_at: NOON + n, skew_ms: 0, sign_on, body };
  return { id: own(n), chain: "a".repeat(26), n, kind, sign_on, known } as unknown as ReadRecord;
}

const defined = (n: number, number: string, kind: string, due?: string): ReadRecord =>
  record(n, "definition_published", {
    content: { subject: "gauge", number, kinds: [kind], ...(due === undefined ? {} : { due }) },
  });

const said = (n: number, gauge: string, result: string): ReadRecord =>
  record(n, "gauge_checked", { gauge, result });

function desk(now: number, ...records: readonly ReadRecord[]): GaugeDesk {
  const proven = new Map([[own(1), "maren"]]);
  return new GaugeDesk(
    new Gauges(records, proven, proven),
    "UTC",
    () => now,
    (id) => id !== own(9),
  );
}

describe("the gauges before whoever measures", () => {
  it("stand as the calendar of the works says, and as the check asks for them", () => {
    const records = [defined(2, "M-014", "calliper", "2026-11-25"), defined(3, "M-061", "plug gauge")];
    expect(desk(NOON, ...records).standing("m 014", CALLIPER)).toBe("in_order");
    expect(desk(NOON + DAY_MS, ...records).standing("M-014", CALLIPER)).toBe("overdue");
    expect(desk(NOON, ...records).standing("M-061", CALLIPER)).toBe("wrong_kind");
    expect(desk(NOON, ...records).standing("M-061", BY_EYE)).toBe("in_order");
    expect(desk(NOON, ...records).standing("X-9", CALLIPER)).toBe("not_known");
    expect(desk(NOON, ...records).due("M-014")).toBe("2026-11-25");
  });

  it("are offered: those used here whatever they are, then those of the kind that are in order", () => {
    const records = [
      defined(2, "M-014", "calliper"),
      defined(3, "M-015", "calliper"),
      defined(4, "M-061", "plug gauge"),
      said(5, "M-015", "doubtful"),
    ];
    expect(desk(NOON, ...records).offered(["X-9"], CALLIPER)).toEqual([
      { number: "X-9", standing: "not_known" },
      { number: "M-014", standing: "in_order" },
    ]);
    expect(desk(NOON, ...records).offered([], BY_EYE)).toEqual([]);
  });

  it("can be doubted and no more doubted, each by whoever said so", () => {
    const records = [said(5, "M-014", "doubtful"), said(9, "M-015", "doubtful")];
    expect(desk(NOON, ...records).ownDoubt("M-014")).toBe(own(5));
    expect(desk(NOON, ...records).ownDoubt("M-015")).toBeUndefined();
    const back = record(6, "record_withdrawn", { record: own(5), gauge: "M-014" });
    expect(desk(NOON, ...records, back).ownDoubt("M-014")).toBeUndefined();
  });
});
