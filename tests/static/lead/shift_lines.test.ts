// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import type { BatchPageLine, LookLine } from "../../../static/src/lead/batch_list.js";
import type { HoldLine } from "../../../static/src/lead/holds_list.js";
import { shiftFrom, sortedBatches, sortedHolds } from "../../../static/src/lead/shift_lines.js";

const hold = (name: string, cause: string, at: number): HoldLine => ({
  hold: name,
  batch: "b",
  cause,
  look: "first",
  cause_withdrawn: false,
  said: "",
  at,
});
const LOOK: LookLine = {
  look: "first",
  due: 10,
  looked: 10,
  accepted: 10,
  rejected: 0,
  rework: 0,
  query: 0,
  points: 0,
  signed_by: "s",
  worst: "met",
};
const page = (
  batch: string,
  more: Partial<BatchPageLine> = {},
  look: Partial<LookLine> = {},
): BatchPageLine => ({
  batch,
  number: batch,
  part: "",
  opened_at: 1,
  pieces: 10,
  released_by: "",
  late: 0,
  not_understood: 0,
  holds: 0,
  looks: [{ ...LOOK, ...look }],
  ...more,
});

describe("holds of a shift", () => {
  test("stand each under one heading, the oldest first", () => {
    const lines = [
      hold("c2", "critical", 5),
      hold("f", "found", 1),
      hold("c1", "critical", 2),
      hold("l", "limit", 3),
    ];
    const { critical, late, other } = sortedHolds(lines);
    expect([critical, late, other].map((held) => held.map((line) => line.hold))).toEqual([
      ["c1", "c2"],
      ["f"],
      ["l"],
    ]);
  });
});

describe("batches of a shift", () => {
  test("wait for a decision or a name: above its limit first, then by how long it was opened", () => {
    const pages = [
      page("ready"),
      page("in work", {}, { looked: 3, points: 2, signed_by: "", worst: "within" }),
      page("released", { released_by: "r" }),
      page("held", { holds: 1 }),
      page("open", {}, { points: 2 }),
      page("over", {}, { worst: "over" }),
      page("older", { opened_at: 0 }),
    ];
    expect(sortedBatches(pages).waiting.map((line) => line.page.batch)).toEqual([
      "over",
      "open",
      "older",
      "ready",
    ]);
  });

  test("with records behind their release came late, also where they are on hold", () => {
    const pages = [
      page("late", { released_by: "r", late: 2 }),
      page("held", { late: 1, holds: 1 }),
      page("ready"),
    ];
    expect(sortedBatches(pages).late.map((line) => line.batch)).toEqual(["late", "held"]);
    expect(sortedBatches(pages).waiting.map((line) => line.page.batch)).toEqual(["ready"]);
  });
});

test("an answer of another shape is no answer", () => {
  const answer = {
    as_of: 1,
    from: 1,
    to: 2,
    shift: "late",
    day: "2026-11-25",
    differences: [],
    not_heard: [],
    wrong_pins: [],
  };
  expect(shiftFrom(answer)).toEqual(answer);
  expect(shiftFrom({ ...answer, differences: [{ batch: "b" }] })).toBeUndefined();
});
