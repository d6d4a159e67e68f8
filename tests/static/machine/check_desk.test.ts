// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { characteristicsOf } from "../../../static/src/folds/check_outcome.js";
import type { Checks } from "../../../static/src/folds/checks.js";
import { checkDesk, entryOf, isNumber, typedOn } from "../../../static/src/machine/check_desk.js";
import type { Characteristic, PartDefinition } from "../../../static/src/records/kinds.js";

const HALF_AN_HOUR = 30 * 60 * 1000;

function characteristic(number: number, members: Partial<Characteristic> = {}): Characteristic {
  return {
    operation: 40,
    characteristic: number,
    words: { en: "c" },
    kind: "value",
    class: "major",
    ...members,
  };
}

const PLAN = characteristicsOf({ characteristics: [characteristic(1), characteristic(2)] } as PartDefinition);

function checks(made: number | "unknown", due: Checks["due"]): Checks {
  const operations = [{ operation: 40, made, told_at: 1000, is_running: true }];
  return { operations, checks: [], due, exposures: [], missed: [], unanswered: [] };
}

describe("what lies before an operator", () => {
  const due = (number: number, role: "first_off" | "in_process", at_made: number) => ({
    ...{ operation: 40, characteristic: number, role, left: 1, at_made, at_time: 0 },
  });

  it("is due now or later, a first-off before what is due in between", () => {
    const desk = checkDesk(
      checks(25, [due(1, "in_process", 25), due(2, "in_process", 50), due(2, "first_off", 0)]),
      PLAN,
      40,
      1000,
    );
    expect(desk.now.map((one) => one.due.role)).toEqual(["first_off", "in_process"]);
    expect(desk.later.map((one) => one.due.at_made)).toEqual([50]);
  });

  it("begins with none made, and knows no number any more after half an hour without one", () => {
    expect(checkDesk(checks("unknown", []), PLAN, 40, 1000).made).toBe(0);
    expect(checkDesk(checks("unknown", []), PLAN, 40, 1001 + HALF_AN_HOUR).made).toBe("unknown");
    expect(checkDesk(checks(7, []), PLAN, 40, 1001 + HALF_AN_HOUR).made).toBe("unknown");
  });

  it("is a number only where a gauge gives one", () => {
    expect(entryOf(characteristic(1))).toBe("number");
    expect(entryOf(characteristic(1, { kind: "go_not_go", upper: "0.4" }))).toBe("go_not_go");
    expect(entryOf(characteristic(1, { kind: "process", unit: "deg C" }))).toBe("number");
    expect(entryOf(characteristic(1, { kind: "process" }))).toBe("yes_no");
    expect(entryOf(characteristic(1, { kind: "document" }))).toBe("yes_no");
  });
});

describe("a number under the keys", () => {
  const typed = (keys: string): string => Array.from(keys).reduce(typedOn, "");

  it("keeps the zeros a gauge shows, and takes one point and no zero in front", () => {
    expect(typed("13.20")).toBe("13.20");
    expect(typed("0.40")).toBe("0.40");
    expect(typed("007")).toBe("7");
    expect(typed(".5")).toBe("5");
    expect(typed("1.2.3")).toBe("1.23");
    expect(typed("3-")).toBe("-3");
    expect(typed("3--")).toBe("3");
  });

  it("is stored only when it is whole", () => {
    expect(["13.20", "0", "-0.5"].every(isNumber)).toBe(true);
    expect(["", "13.", "-", "007", ".5"].some(isNumber)).toBe(false);
  });
});
