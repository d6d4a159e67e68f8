// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import {
  isRestDue,
  lookingSince,
  LONGEST_LOOKING_MS,
  SHORTEST_REST_MS,
} from "../../../static/src/bench/rests.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, record, SIGN_ON, TRAY } from "./demo_words.js";

const MINUTE = 60_000;
const at = (minutes: number, one: ReadRecord): ReadRecord => ({ ...one, made_at: minutes * MINUTE });
const opened = (n: number): ReadRecord => record(n, "tray_opened", { look: "first", number: n, places: 60 });
const find = (n: number, signOn = SIGN_ON): ReadRecord =>
  record(n, "defect_tallied", { look: "first", tray: TRAY, defect: "lap" }, signOn);
const closed = (n: number): ReadRecord =>
  record(n, "tray_closed", {
    look: "first",
    tray: TRAY,
    places: 60,
    empty_counted: 0,
    accepted: 60,
    rejected: 0,
    rework: 0,
    query: 0,
    all_looked_at: true,
  });
const rested = (n: number): ReadRecord => record(n, "break_taken", { look: "first" });
const since = (...records: ReadRecord[]): number | undefined => {
  const found = lookingSince(records, SIGN_ON);
  return found === undefined ? undefined : found / MINUTE;
};

describe("how long somebody has looked", () => {
  test("counts from the first act of the sign-on, in whatever order the records come", () => {
    expect(since()).toBeUndefined();
    expect(since(at(12, find(11)), at(3, opened(10)))).toBe(3);
    expect(since(at(3, find(10, `${CHAIN}:9`)), at(5, find(11)))).toBe(5);
  });

  test("goes on over pieces that needed no tap", () => {
    expect(since(at(0, opened(10)), at(20, find(11)))).toBe(0);
  });

  test("begins anew when the rest is told", () => {
    expect(since(at(0, opened(10)), at(30, rested(11)), at(40, find(12)))).toBe(30);
  });

  test("begins anew behind a tray's end with a rest that was long enough, and with no shorter one", () => {
    const rest = SHORTEST_REST_MS / MINUTE;
    expect(since(at(0, opened(10)), at(10, closed(11)), at(10 + rest, opened(12)))).toBe(10 + rest);
    expect(since(at(0, opened(10)), at(10, closed(11)), at(9 + rest, opened(12)))).toBe(0);
  });

  test("asks for a rest from the twenty-fifth minute on", () => {
    expect([isRestDue(0, LONGEST_LOOKING_MS - 1), isRestDue(0, LONGEST_LOOKING_MS)]).toEqual([false, true]);
    expect(isRestDue(undefined, LONGEST_LOOKING_MS)).toBe(false);
  });
});
