// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { spanOf } from "../../../static/src/lead/spans.js";
import type { ShiftDefinition } from "../../../static/src/records/kinds.js";

const SHIFTS: ShiftDefinition = {
  subject: "shifts",
  time_zone: "Europe/Berlin",
  shifts: [
    { shift: "early", starts: "06:00" },
    { shift: "late", starts: "14:00" },
    { shift: "night", starts: "22:00" },
  ],
};
const at = (text: string): number => Date.parse(text);
const HOUR_MS = 3_600_000;

describe("the shift of now", () => {
  test("is told by the works' wall clock, not by UTC", () => {
    expect(spanOf("shift", at("2026-11-25T05:30:00Z"), SHIFTS)).toEqual({
      from: at("2026-11-25T05:00:00Z"),
      to: at("2026-11-25T13:00:00Z"),
      shift: "early",
    });
  });

  test("after midnight is the night shift that began the day before", () => {
    expect(spanOf("shift", at("2026-11-25T01:00:00Z"), SHIFTS)).toEqual({
      from: at("2026-11-24T21:00:00Z"),
      to: at("2026-11-25T05:00:00Z"),
      shift: "night",
    });
  });

  test("over the end of summer time lasts an hour longer, over its start an hour less", () => {
    const autumn = spanOf("shift", at("2026-10-25T00:30:00Z"), SHIFTS);
    const spring = spanOf("shift", at("2026-03-29T00:30:00Z"), SHIFTS);
    expect((autumn.to - autumn.from) / HOUR_MS).toBe(9);
    expect((spring.to - spring.from) / HOUR_MS).toBe(7);
  });

  test("contains now, and shifts follow one another without a gap", () => {
    const year = {
      min: at("2026-01-01T00:00:00Z"),
      max: at("2026-12-31T00:00:00Z"),
    };
    fc.assert(
      fc.property(fc.integer(year), (now) => {
        const here = spanOf("shift", now, SHIFTS);
        expect(here.from <= now && now < here.to).toBe(true);
        expect(spanOf("shift", here.to, SHIFTS).from).toBe(here.to);
      }),
    );
  });
});

describe("other spans", () => {
  test("a day of 25 hours is 25 hours long", () => {
    const { from, to } = spanOf("day", at("2026-10-25T12:00:00Z"), SHIFTS);
    expect((to - from) / HOUR_MS).toBe(25);
  });

  test("all reaches beyond now", () => {
    const now = at("2026-11-25T12:00:00Z");
    const { from, to } = spanOf("all", now, SHIFTS);
    expect(from).toBe(0);
    expect(to).toBeGreaterThan(now);
  });
});
