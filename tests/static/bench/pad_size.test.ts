// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { KEY_GAP_PX, KEY_WIDTH_PX, padSize } from "../../../static/src/bench/pad_size.js";

describe("how many keys a screen holds", () => {
  test("a tablet of 10 inches holds a list of twelve, whichever way it stands", () => {
    expect(padSize(1280, 800)).toEqual({
      shape: "wide",
      columns: 4,
      rowsAtOnce: 3,
    });
    expect(padSize(800, 1280)).toEqual({
      shape: "tall",
      columns: 3,
      rowsAtOnce: 5,
    });
  });

  test("the bars of the tablet's own system leave the layout as it is", () => {
    expect(padSize(1280, 728).shape).toBe("wide");
    expect(padSize(800, 1208).shape).toBe("tall");
  });

  test("at twice the size the pad turns pages", () => {
    const zoomed = padSize(640, 400);
    expect(zoomed.shape).toBe("small");
    expect(zoomed.columns * zoomed.rowsAtOnce).toBeLessThan(12);
  });

  test("keys of full width and their gaps never need more than the screen has", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 240, max: 3000 }),
        fc.integer({ min: 240, max: 3000 }),
        (width, height) => {
          const { columns } = padSize(width, height);
          const needed = columns * (KEY_WIDTH_PX + KEY_GAP_PX) - KEY_GAP_PX;
          expect(needed).toBeLessThanOrEqual(width);
        },
      ),
    );
  });
});
