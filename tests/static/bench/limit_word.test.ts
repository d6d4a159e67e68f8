// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { limitOf, type LimitState } from "../../../static/src/bench/limit_word.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { foldHere, record, SIGN_ON, TRAY } from "./demo_words.js";

const counted = record(9, "pieces_counted", {
  look: "first",
  pieces: 60,
  trays: [{ number: 1, pieces: 60 }],
});
const finds = (count: number, defect: string): ReadRecord[] =>
  Array.from({ length: count }, (_, place) =>
    record(10 + place, "defect_tallied", { look: "first", tray: TRAY, defect }),
  );
const closed = (rejected: number): ReadRecord =>
  record(90, "tray_closed", {
    look: "first",
    tray: TRAY,
    places: 60,
    empty_counted: 0,
    accepted: 60 - rejected,
    rejected,
    rework: 0,
    query: 0,
    all_looked_at: true,
  });
const wordOf = (...records: ReadRecord[]): LimitState | undefined =>
  limitOf(foldHere(records, new Map([[SIGN_ON, "someone"]])).limits, "first");

describe("the limit word of a look", () => {
  test("is none as long as nobody counted the look in", () => {
    expect(wordOf(...finds(9, "staining"))).toBeUndefined();
  });

  test("says broken at once, from open trays too", () => {
    expect(wordOf(counted)).toBe("within");
    expect(wordOf(counted, ...finds(2, "staining"))).toBe("within");
    expect(wordOf(counted, ...finds(3, "staining"))).toBe("broken");
  });

  test("is the one of the class that stands worst", () => {
    expect(wordOf(counted, ...finds(1, "lap"))).toBe("broken");
  });

  test("says what came of it once all that is due was looked at", () => {
    expect(wordOf(counted, ...finds(2, "staining"), closed(2))).toBe("met");
    expect(wordOf(counted, ...finds(3, "staining"), closed(3))).toBe("over");
  });
});
