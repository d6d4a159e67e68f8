// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { causeOf, placeOf } from "../../../static/src/lead/hold_words.js";

const AT = { tag: "KM17", number: 4, finder: "Ines Brandt", look: "first" };

describe("where a hold comes from", () => {
  test("a mark was found by somebody, on a piece, in a tray, at a look", () => {
    expect(placeOf({ ...AT, cause: "critical" })).toBe(
      "First look, piece KM17, Tray 4, found by Ines Brandt",
    );
  });

  test("a hold that somebody placed was found by nobody", () => {
    const placed = { tag: "", number: 0, finder: "Jonas Falk", look: "", cause: "placed" };
    expect(placeOf(placed)).toBe("placed by Jonas Falk");
  });

  test("a gauge that was found wrong is called by its number", () => {
    const line = {
      hold: "h",
      batch: "b",
      cause: "gauge",
      look: "",
      cause_withdrawn: false,
      said: "M-016",
      at: 0,
    };
    expect(causeOf(line, new Map())).toBe("Measured with a gauge that was found wrong: M-016");
  });
});
