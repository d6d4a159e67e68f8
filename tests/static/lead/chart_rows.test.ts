// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { inLines, LINE_PX, ROW_PX, rowsOf } from "../../../static/src/lead/chart_rows.js";

describe("lines", () => {
  test("hold every letter in its order, and none is too long", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme-ascii" }), fc.integer({ min: 1, max: 30 }), (text, most) => {
        const lines = inLines(text, most);
        expect(lines.join("").replaceAll(" ", "")).toBe(text.replaceAll(" ", ""));
        expect(lines.filter(({ length }) => length > most)).toEqual([]);
      }),
    );
  });

  test("break between words where they can", () => {
    expect(inLines("40 Heat and hot forge: 168", 12)).toEqual(["40 Heat and", "hot forge:", "168"]);
  });
});

describe("rows", () => {
  test("are as high as a finger needs and follow one another, short words beside the bars", () => {
    const { left, rows, bottom } = rowsOf(["Burn", "Lap"], ["Burn: 3", "Lap: 1"], 1200, 12);
    expect(left).toBeGreaterThan(100);
    expect(rows.map(({ top, lines }) => [top, lines.length])).toEqual([
      [12, 0],
      [12 + ROW_PX, 0],
    ]);
    expect(bottom).toBe(12 + 2 * ROW_PX);
    expect(ROW_PX).toBeGreaterThanOrEqual(56);
  });

  test("have their words above the bars where one is long, or the screen is narrow", () => {
    const words = ["40 Heat and hot forge", "Lap"];
    const texts = words.map((word) => `${word}: 168`);
    const wide = rowsOf(words, texts, 1200, 0);
    expect(wide.rows.map(({ lines }) => lines.length)).toEqual([1, 1]);
    const narrow = rowsOf(words, texts, 260, 0);
    expect(narrow.rows.map(({ lines }) => lines.length)).toEqual([2, 1]);
    expect(narrow.rows[1]?.top).toBe(2 * LINE_PX + ROW_PX);
  });
});
