// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { goesOnFrom } from "../../../static/src/bench/handed_over.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, record, TRAY } from "./demo_words.js";

const given = (n: number, place: number, tray = TRAY): ReadRecord =>
  record(n, "handover_given", { look: "first", tray, place });
const taken = (n: number, more: object): ReadRecord =>
  record(n, "handover_taken", { look: "first", tray: TRAY, ...more });
const from = (...records: ReadRecord[]): number | undefined =>
  goesOnFrom(new Map(records.map((one) => [one.id, one])), TRAY);

describe("a tray that was left", () => {
  test("goes on behind the place that was looked at last", () => {
    expect(from(given(10, 24))).toBe(25);
    expect(from(given(10, 24), taken(11, { given: `${CHAIN}:10` }))).toBe(25);
    expect(from(given(10, 24), taken(11, { given: `${CHAIN}:10` }), given(12, 40))).toBe(41);
  });

  test("goes on from its first place where the taker says so", () => {
    expect(from(given(10, 24), taken(11, { given: `${CHAIN}:10`, from_first: true }))).toBe(1);
  });

  test("says nothing where nobody said a place", () => {
    expect(from()).toBeUndefined();
    expect(from(taken(11, {}))).toBeUndefined();
    expect(from(given(10, 24, `${CHAIN}:4`))).toBeUndefined();
  });
});
