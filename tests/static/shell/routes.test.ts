// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { addressOf, readAddress, type Route } from "../../../static/src/shell/routes.js";

// Strings of whole characters: an id never holds half of a surrogate pair.
const id = fc.string({ minLength: 1, unit: "grapheme" });
const places: fc.Arbitrary<Route> = fc.oneof(
  fc.constant({ at: "batches" } as const),
  fc.constant({ at: "pareto" } as const),
  fc.constant({ at: "set_aside" } as const),
  fc.record({ at: fc.constant("look" as const), batch: id }),
  fc.record({ at: fc.constant("trays" as const), batch: id, look: id }),
  fc.record({
    at: fc.constantFrom("tally" as const, "end" as const),
    batch: id,
    look: id,
    tray: id,
  }),
);

describe("addresses", () => {
  test("come back as the place and the language they were made from", () => {
    fc.assert(
      fc.property(places, (place) => {
        expect(readAddress(addressOf("de", place))).toEqual({
          spoken: "de",
          place,
        });
      }),
    );
  });

  test("that name no place lead to the batches, and never throw", () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(readAddress(`#${text}`).place).toHaveProperty("at");
      }),
    );
    expect(readAddress("#/en/tally/only-a-batch").place).toEqual({
      at: "batches",
    });
    expect(readAddress("#/en/look/%E0%A4%A").place).toEqual({ at: "batches" });
  });
});
