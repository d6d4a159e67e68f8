// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { tagOf } from "../../../static/src/folds/tags.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, record, TRAY } from "../bench/demo_words.js";

const DEVICE = `${"s".repeat(26)}:5`;
const enrolled: ReadRecord = {
  ...record(5, "device_enrolled", { name: "Bench 1", letters: "KM", public_key: "A".repeat(80) }),
  id: DEVICE,
};
const found = record(17, "defect_tallied", { look: "first", tray: TRAY, defect: "lap" });
const tag = (records: readonly ReadRecord[], own?: { chain: string; letters: string }): string =>
  tagOf(found.id, new Map(records.map((one) => [one.id, one])), own);

describe("the tag of a piece", () => {
  test("is the letters of the device that found it, and the number of its first record", () => {
    expect(tag([found, enrolled])).toBe("KM17");
  });

  test("of an own piece is known before the enrolment was fetched, another's is not", () => {
    expect(tag([found], { chain: CHAIN, letters: "KM" })).toBe("KM17");
    expect(tag([found], { chain: "b".repeat(26), letters: "XY" })).toBe("");
  });

  test("is the same where the line counts under the id of its admission", () => {
    const admitted = { ...found, id: `${"s".repeat(26)}:90` };
    expect(tagOf(admitted.id, new Map([admitted, enrolled].map((one) => [one.id, one])))).toBe("KM17");
  });
});
