// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { billionths } from "../../../static/src/records/decimal.js";
import {
  cleaned,
  isNumber,
  readingOf,
  sentBy,
  stepOf,
  takesSteps,
  typedOn,
} from "../../../static/src/machine/reading.js";
import type { Characteristic } from "../../../static/src/records/kinds.js";

function of(members: Partial<Characteristic>): Characteristic {
  return { operation: 40, characteristic: 4, words: { en: "c" }, kind: "value", class: "major", ...members };
}
const THICKNESS = of({ nominal: "13.20", lower: "12.90", upper: "13.60" });
const read = (typed: string, characteristic = THICKNESS): unknown =>
  readingOf(typed, characteristic, stepOf(characteristic));

describe("a number under the keys", () => {
  const typed = (keys: string): string => Array.from(keys).reduce(typedOn, "");

  it("keeps the zeros a gauge shows, and takes one point and no zero in front", () => {
    expect(typed("13.20")).toBe("13.20");
    expect(typed("0.40")).toBe("0.40");
    expect(typed("007")).toBe("7");
    expect(typed(".5")).toBe("5");
    expect(typed("1.2.3")).toBe("1.23");
  });

  it("has one sign, in front, whenever it is tapped; the same one again takes it away", () => {
    expect(typed("3-")).toBe("-3");
    expect(typed("3--")).toBe("3");
    expect(typed("+2-")).toBe("-2");
  });

  it("is whole before it is stored", () => {
    expect(["13.20", "0", "-0.5"].every(isNumber)).toBe(true);
    expect(["", "13.", "-", "007", ".5"].some(isNumber)).toBe(false);
  });

  it("is read with a comma, and stored with a point", () => {
    expect(cleaned("13,20 mm")).toBe("13.20");
  });
});

describe("steps from the nominal", () => {
  it("are of the last digit that the plan is written with, and are stored in full", () => {
    expect(read("+2")).toEqual({ value: "13.22", entered: "steps" });
    expect(read("-31")).toEqual({ value: "12.89", entered: "steps" });
    expect(read("+0")).toEqual({ value: "13.20", entered: "steps" });
    expect(read("+12", of({ nominal: "0", upper: "0.40" }))).toEqual({ value: "0.12", entered: "steps" });
    expect(read("-2", of({ nominal: "0", upper: "0.40" }))).toEqual({ value: "-0.02", entered: "steps" });
    expect(readingOf("+3", THICKNESS, "0.001")).toEqual({ value: "13.203", entered: "steps" });
    expect(readingOf("+3", THICKNESS, "0.5")).toEqual({ value: "14.70", entered: "steps" });
  });

  it("are none where a value itself may begin with a sign, or where there is no nominal", () => {
    const aboutNought = of({ nominal: "0", lower: "-0.20", upper: "0.20" });
    expect(takesSteps(aboutNought)).toBe(false);
    expect(read("-2", aboutNought)).toEqual({ value: "-2", entered: "typed" });
    expect(takesSteps(of({ nominal: "per approved procedure" }))).toBe(false);
    expect(read("+2", of({}))).toBeUndefined();
  });

  it("are whole steps", () => {
    expect(["+", "-", "+1.5", "+13.22"].map((typed) => read(typed))).toEqual(Array(4).fill(undefined));
  });

  it("are as far from the nominal as they say, whatever it is", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 99_999 }),
        fc.integer({ min: -999, max: 999 }),
        (nominal, steps) => {
          const text = (nominal / 100).toFixed(2);
          const found = readingOf(`${steps < 0 ? "" : "+"}${steps}`, of({ nominal: text }), "0.01");
          expect(isNumber(found?.value ?? "")).toBe(true);
          expect(billionths(found?.value ?? "") - billionths(text)).toBe(BigInt(steps) * billionths("0.01"));
        },
      ),
      { seed: 20261128, numRuns: 300 },
    );
  });
});

describe("what a gauge sends", () => {
  it("is its number without what stands around it", () => {
    expect(sentBy("13.22")).toEqual({ value: "13.22", unit: "" });
    expect(sentBy("  +0013,22 mm")).toEqual({ value: "13.22", unit: "mm" });
    expect(sentBy("-000.05")).toEqual({ value: "-0.05", unit: "" });
    expect(sentBy("0.40")).toEqual({ value: "0.40", unit: "" });
    expect(sentBy("5")).toEqual({ value: "5", unit: "" });
  });

  it("is none where a scanner read a label", () => {
    expect(["SK70-0501", "G-0417", "", "12-34", "1.2.3"].map(sentBy)).toEqual(Array(5).fill(undefined));
  });
});
