// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import {
  addressOf,
  FIRST_QUESTION,
  narrowed,
  wantedSpan,
  widened,
  type Question,
} from "../../../static/src/lead/pareto_question.js";
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
const NOON = Date.UTC(2026, 10, 25, 12);
const HOUR = 3_600_000;
const spanOf = (part: Partial<Question>) => wantedSpan({ ...FIRST_QUESTION, ...part }, NOON, SHIFTS);
const bar = (name: string) => ({ sort: "value", name, label: name }) as const;

describe("a question", () => {
  test("of the shift of now leaves the span to the server's clock", () => {
    expect(addressOf(FIRST_QUESTION, { from: 1, to: 2, shift: "" })).toBe(
      "/pareto?by=defect&unit=marks&axis=found",
    );
  });

  test("names its span, and each bar it is narrowed to, whatever stands in a name", () => {
    const only = [
      { stratum: "cavity", ...bar("A & B:1") },
      { stratum: "zone", sort: "none", name: "", label: "" },
      { stratum: "operation", sort: "either", name: "40,50", label: "" },
    ] as const;
    const address = addressOf({ ...FIRST_QUESTION, span: "day", only }, { from: 1, to: 2, shift: "" });
    const query = new URLSearchParams(address.split("?")[1]);
    expect([query.get("from"), query.get("to")]).toEqual(["1", "2"]);
    expect(query.getAll("only")).toEqual(["cavity:value:A & B:1", "zone:none", "operation:either:40,50"]);
  });

  test("is narrowed to one bar of a stratum, and to bars of several, and widened again", () => {
    const one = narrowed(narrowed(FIRST_QUESTION, bar("lap")), bar("burn"));
    expect(one.only.map(({ name }) => name)).toEqual(["burn"]);
    const two = narrowed({ ...one, by: "tray" }, bar("12"));
    expect(two.only.map(({ stratum }) => stratum)).toEqual(["defect", "tray"]);
    expect(widened(two, "defect").only.map(({ stratum }) => stratum)).toEqual(["tray"]);
  });
});

describe("spans", () => {
  test("the shift before ends where this one begins", () => {
    expect(spanOf({ span: "shift_before" })).toEqual({
      from: NOON - 15 * HOUR,
      to: NOON - 7 * HOUR,
      shift: "night",
    });
  });

  test("seven days are whole days of the site, today among them", () => {
    const midnight = NOON - 13 * HOUR;
    expect(spanOf({ span: "week" })).toMatchObject({
      from: midnight - 6 * 24 * HOUR,
      to: midnight + 24 * HOUR,
    });
  });

  test("chosen days are both in it, over a change of the clock too", () => {
    // On 25 October 2026 the day in Berlin has 25 hours.
    expect(spanOf({ span: "days", days: ["2026-10-25", "2026-10-25"] })).toMatchObject({
      from: Date.UTC(2026, 9, 24, 22),
      to: Date.UTC(2026, 9, 25, 23),
    });
  });

  test("days that are not chosen, or stand the wrong way round, are no span", () => {
    expect(spanOf({ span: "days" })).toBeUndefined();
    expect(spanOf({ span: "days", days: ["2026-10-25", "2026-10-24"] })).toBeUndefined();
  });
});
