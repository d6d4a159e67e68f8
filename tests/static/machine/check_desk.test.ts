// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { characteristicsOf } from "../../../static/src/folds/check_outcome.js";
import type { Checks } from "../../../static/src/folds/checks.js";
import { checkDesk, entryOf } from "../../../static/src/machine/check_desk.js";
import type { Characteristic, CheckRole, PartDefinition } from "../../../static/src/records/kinds.js";

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
  const due = (number: number, role: CheckRole, at_made: number) => ({
    ...{ operation: 40, characteristic: number, role, left: 1, at_made, at_time: 0 },
  });

  it("is due now or later, a last-off before a first-off, and that before what is due in between", () => {
    const desk = checkDesk(
      checks(25, [
        due(1, "in_process", 25),
        due(2, "in_process", 50),
        due(2, "first_off", 0),
        due(1, "last_off", 0),
      ]),
      PLAN,
      40,
      1000,
    );
    expect(desk.now.map((one) => one.due.role)).toEqual(["last_off", "first_off", "in_process"]);
    expect(desk.later.map((one) => one.due.at_made)).toEqual([50]);
  });

  it("begins with none made, and knows no number any more after half an hour without one", () => {
    expect(checkDesk(checks("unknown", []), PLAN, 40, 1000).made).toBe(0);
    expect(checkDesk(checks("unknown", []), PLAN, 40, 1001 + HALF_AN_HOUR).made).toBe("unknown");
    expect(checkDesk(checks(7, []), PLAN, 40, 1001 + HALF_AN_HOUR).made).toBe("unknown");
  });

  it("tells with one key as many pieces as lie between the closest two checks", () => {
    const every = (count: number) => ({ in_process: { at: "pieces" as const, cell: "c", every: count } });
    const plan = characteristicsOf({
      characteristics: [
        characteristic(1, every(50)),
        characteristic(2, every(25)),
        characteristic(3, { operation: 50, ...every(10) }),
      ],
    } as unknown as PartDefinition);
    expect(checkDesk(checks(0, []), plan, 40, 1000).usual).toBe(25);
    expect(checkDesk(checks(0, []), PLAN, 40, 1000).usual).toBe(0);
  });

  it("is a number only where a gauge gives one", () => {
    expect(entryOf(characteristic(1))).toBe("number");
    expect(entryOf(characteristic(1, { kind: "go_not_go", upper: "0.4" }))).toBe("go_not_go");
    expect(entryOf(characteristic(1, { kind: "process", unit: "°C" }))).toBe("number");
    expect(entryOf(characteristic(1, { kind: "process" }))).toBe("yes_no");
    expect(entryOf(characteristic(1, { kind: "document" }))).toBe("yes_no");
  });
});
