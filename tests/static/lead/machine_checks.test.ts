// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { byPlace, machineChecksFrom, oneIn, type OfCheck } from "../../../static/src/lead/machine_checks.js";

const ANSWER = {
  marker: "tallywright",
  protocol: 1,
  as_of: 5,
  from: 0,
  to: 9,
  shift: "early",
  day: "2026-11-25",
  taken: 0,
  gaps: [],
  repeated: [],
  out: [],
  worth_a_look: [],
  looked_at: 0,
  too_few: 0,
  more: 0,
};

function line(operation: number, batch: string, characteristic: number): OfCheck {
  return {
    batch,
    number: batch,
    operation,
    operation_words: {},
    characteristic,
    words: {},
    unit: "",
    lower: "",
    upper: "",
  };
}

describe("the checks at the machines", () => {
  test("an answer is taken with what a newer server adds to it, and not without what it needs", () => {
    expect(machineChecksFrom({ ...ANSWER, newer: 1 })?.taken).toBe(0);
    const { gaps, ...without } = ANSWER;
    expect(gaps).toEqual([]);
    expect(machineChecksFrom(without)).toBeUndefined();
  });

  test("lines of one operation and batch stand together, in the order they came in", () => {
    const lines = [line(40, "a", 1), line(40, "b", 1), line(40, "a", 2), line(50, "a", 1)];
    expect(byPlace(lines).map((group) => group.map(({ characteristic }) => characteristic))).toEqual([
      [1, 2],
      [1],
      [1],
    ]);
  });

  test.each([
    [0.25, 4],
    [0.0009, 1100],
    [1 / 12_345, 12_000],
    [1e-6, 1_000_000],
    [0, 1_000_000_000],
  ])("a chance of %d is one in %d", (chance, expected) => {
    expect(oneIn(chance)).toBe(expected);
  });
});
