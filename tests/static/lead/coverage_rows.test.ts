// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { coverageRows } from "../../../static/src/lead/coverage_rows.js";

describe("coverage", () => {
  test("zones of a family stand together by how many looks they had, the fewest first", () => {
    const line = (zone: string, looks: string[], unknown: string[] = []) => ({
      family: "crack",
      zone,
      looks,
      unknown,
    });
    const rows = coverageRows([
      line("", ["first", "second"]),
      line("bow", ["first", "second"]),
      line("ear", ["first"]),
      line("bore", []),
      line("pin", ["first"], ["second"]),
    ]);
    expect(rows).toEqual([
      {
        family: "crack",
        groups: [
          { times: 0, zones: ["bore"] },
          { times: "unknown", zones: ["pin"] },
          { times: 1, zones: ["ear"] },
          { times: 2, zones: ["", "bow"] },
        ],
      },
    ]);
  });

  test("families keep the order of the definition", () => {
    const rows = ["lap", "crack", "lap"].map((family, place) => ({
      family,
      zone: String(place),
      looks: [],
      unknown: [],
    }));
    expect(coverageRows(rows).map(({ family }) => family)).toEqual(["lap", "crack"]);
  });
});
