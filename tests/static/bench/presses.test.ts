// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { isQuickRepeat, nextUndo, QUICK_REPEAT_MS, UNDO_DEPTH } from "../../../static/src/bench/presses.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, record, SIGN_ON, TRAY } from "./demo_words.js";

const OTHER = `${CHAIN}:90`;
const find = (n: number, tray = TRAY, signOn = SIGN_ON): ReadRecord =>
  record(n, "defect_tallied", { look: "first", tray, defect: "lap" }, signOn);
const back = (n: number, target: number, signOn = SIGN_ON): ReadRecord =>
  record(n, "record_withdrawn", { record: `${CHAIN}:${target}` }, signOn);
const next = (records: ReadRecord[], leaving: string[] = []): number | undefined =>
  nextUndo(records, TRAY, SIGN_ON, new Set(leaving))?.n;

describe("a second tap", () => {
  test("on the same key is an echo up to a quarter of a second", () => {
    const before = { key: "lap", at: 1000 };
    expect(isQuickRepeat(before, { key: "lap", at: 1000 + QUICK_REPEAT_MS })).toBe(true);
    expect(isQuickRepeat(before, { key: "lap", at: 1001 + QUICK_REPEAT_MS })).toBe(false);
  });

  test("on another key is a find, however quick", () => {
    expect(isQuickRepeat({ key: "lap", at: 1000 }, { key: "burn", at: 1010 })).toBe(false);
  });

  test("needs a first one", () => {
    expect(isQuickRepeat(undefined, { key: "lap", at: 10 })).toBe(false);
  });
});

describe("undo", () => {
  test("takes back the last find first, then the one before", () => {
    expect(next([find(10), find(11)])).toBe(11);
    expect(next([find(10), find(11), back(12, 11)])).toBe(10);
    expect(next([find(10), back(12, 10)])).toBeUndefined();
  });

  test("leaves alone what another sign-on or another tray has", () => {
    expect(next([find(10), find(11, TRAY, OTHER), find(12, `${CHAIN}:4`)])).toBe(10);
  });

  test("does not name a find again while its taking back is on the way", () => {
    expect(next([find(10), find(11)], [`${CHAIN}:11`])).toBe(10);
  });

  test("takes back a judgement of a piece of this tray like a find, the newest of both first", () => {
    const judged = record(12, "piece_judged", { look: "first", piece: `${CHAIN}:10`, verdict: "accept" });
    const elsewhere = record(13, "piece_judged", { look: "first", piece: `${CHAIN}:4`, verdict: "accept" });
    expect(next([find(10), judged, elsewhere])).toBe(12);
    expect(next([find(10), judged, find(14)])).toBe(14);
    expect(next([find(10), judged, back(15, 12)])).toBe(10);
  });

  test("is not misled by another's useless withdrawal", () => {
    expect(next([find(10), back(11, 10, OTHER)])).toBe(10);
  });

  test("reaches as far back as it says, and no further", () => {
    const finds = Array.from({ length: UNDO_DEPTH + 5 }, (_, place) => find(10 + place));
    const backs = finds.slice(5).map((entry, place) => back(200 + place, entry.n));
    expect(next([...finds, ...backs.slice(1)])).toBe(15);
    expect(next([...finds, ...backs])).toBeUndefined();
  });
});
