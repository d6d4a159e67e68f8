// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { individualsOf, runSignals } from "../../../static/src/folds/run_signals.js";
import costs from "../../published/tables/mortgage_costs.csv?raw";
import series from "../../published/tables/run_signals.csv?raw";

function rows(table: string): readonly string[][] {
  const lines = table.split("\n").filter((line) => line !== "" && !line.startsWith("#"));
  return lines.slice(1).map((line) => line.split(","));
}

describe("run signals", () => {
  it.each(rows(series).map(([what = "", scores = "", fires = ""]) => [what, scores, fires] as const))(
    "fire at the published points: %s",
    (_, scores, fires) => {
      const points = (rule: string): readonly number[] =>
        (fires.split(";").find((one) => one.startsWith(`${rule}:`)) ?? "")
          .slice(2)
          .split(" ")
          .flatMap((point) => (point === "" ? [] : Number(point)));
      expect(runSignals(scores.split(" ").map(Number), { centre: 0, sigma: 1 })).toEqual({
        beyond: points("1"),
        oneSide: points("2"),
      });
    },
  );

  it("have the limits of the published chart of single values", () => {
    // Mean 300.5 and limits 279.7902761 and 321.2097239: three standard deviations each way.
    const { centre, sigma } = individualsOf(rows(costs).map((row) => Number(row.at(-1))));
    expect(centre).toBeCloseTo(300.5, 8);
    expect(centre - 3 * sigma).toBeCloseTo(279.7902761, 6);
    expect(centre + 3 * sigma).toBeCloseTo(321.2097239, 6);
  });

  it("say nothing of values that are all alike", () => {
    const alike = Array<number>(20).fill(13.2);
    expect(runSignals(alike, individualsOf(alike))).toEqual({ beyond: [], oneSide: [] });
  });
});
