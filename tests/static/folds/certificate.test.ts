// SPDX-License-Identifier: Apache-2.0
// Held to the same values as the server's judge_certificate, and to its answers for many more.
import { describe, expect, it } from "vitest";
import { judgePrinted, type Verdict } from "../../../static/src/folds/certificate.js";

const files = import.meta.glob<string[][]>("../../vectors/certificate/*.json", {
  eager: true,
  import: "default",
});
const answers = Object.values(files).flat();

// Source: ISO 80000-1, annex B, and ASTM E29, rounding method (rules from memory), worked by hand; the table stands in
// tests/published/test_material_published.py as well. Limits, value, verdict half to even, verdict half up.
const ROUNDED: readonly [string | undefined, string | undefined, string, Verdict, Verdict][] = [
  [undefined, "0.40", "0.404", "ok", "ok"],
  [undefined, "0.40", "0.405", "ok", "above"],
  [undefined, "0.40", "0.406", "above", "above"],
  [undefined, "0.7", "0.75", "above", "above"],
  [undefined, "0.70", "0.704", "ok", "ok"],
  [undefined, "0.7", "0.704", "ok", "ok"],
  ["0.40", "1.0", "0.395", "ok", "ok"],
  ["0.40", "1.0", "0.394", "below", "below"],
  ["0.6", "1.2", "1.25", "ok", "above"],
  [undefined, "0.05", "<0.01", "ok", "ok"],
  ["0.6", undefined, "<0.5", "below", "below"],
];

describe("a printed value", () => {
  it.each(ROUNDED)("between %s and %s: %s is %s, half up %s", (low, high, value, even, up) => {
    expect(judgePrinted(value, low, high, "half_even")).toBe(even);
    expect(judgePrinted(value, low, high, "half_up")).toBe(up);
  });

  it("is judged as the server judges it", () => {
    expect(answers.length).toBeGreaterThan(500);
    for (const [value, low, high, even, up] of answers) {
      const ends = [low === "" ? undefined : low, high === "" ? undefined : high] as const;
      const found = [
        judgePrinted(value ?? "", ...ends, "half_even"),
        judgePrinted(value ?? "", ...ends, "half_up"),
      ];
      expect([value, low, high, ...found]).toEqual([value, low, high, even, up]);
    }
  });
});
