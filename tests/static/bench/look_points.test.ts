// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, test } from "vitest";
import { openPoints } from "../../../static/src/bench/look_points.js";
import { language } from "../../../static/src/words/say.js";

const NAMES = { tray: () => "7", person: () => "Ines Brandt", tag: () => "KM17" };
const point = (kind: string, subject = "", amount = 0) => ({ kind, subject, amount });

afterEach(() => {
  language.value = "en";
});

describe("open points in few sentences", () => {
  test("what there may be many of is counted", () => {
    const points = [
      point("tray_not_closed", "a:1"),
      point("tray_not_closed", "a:2"),
      point("query_open", "a:9"),
    ];
    expect(openPoints(points, 0, NAMES)).toEqual({
      counts: ["2 trays are not closed", "1 query open"],
      named: [],
    });
    language.value = "de";
    expect(openPoints(points, 0, NAMES).counts).toEqual([
      "2 Schalen sind nicht beendet",
      "1 Rückfrage offen",
    ]);
  });

  test("a difference is counted and named", () => {
    const { counts, named } = openPoints([point("tray_short", "3", -2)], 1, NAMES);
    expect([counts, named]).toEqual([["1 difference"], ["Tray 3: 2 fewer looked at than due."]]);
  });

  test("nothing open says nothing", () => {
    expect(openPoints([], 0, NAMES)).toEqual({ counts: [], named: [] });
  });

  test("late records are named with their number", () => {
    expect(openPoints([point("signed_before_this_came", "a:5", 2)], 0, NAMES).named).toEqual([
      "Signed before 2 records came: sign again.",
    ]);
  });
});
