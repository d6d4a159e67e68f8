// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { afterEach, describe, expect, test, vi } from "vitest";
import { addressOf, readAddress, speak, type Route } from "../../../static/src/shell/routes.js";
import { language } from "../../../static/src/words/say.js";

// Strings of whole characters: an id never holds half of a surrogate pair.
const id = fc.string({ minLength: 1, unit: "grapheme" });
const places: fc.Arbitrary<Route> = fc.oneof(
  fc.constant({ at: "batches" } as const),
  fc.constant({ at: "pareto" } as const),
  fc.constant({ at: "set_aside" } as const),
  fc.constant({ at: "decide" } as const),
  fc.constant({ at: "shift" } as const),
  fc.constant({ at: "holds" } as const),
  fc.record({ at: fc.constant("holds" as const), batch: id }),
  fc.record({ at: fc.constantFrom("look" as const, "batch" as const, "machine" as const), batch: id }),
  fc.record({
    at: fc.constantFrom("checks" as const, "begin" as const, "counts" as const, "more" as const),
    batch: id,
    operation: fc.integer({ min: 1 }).map(String),
  }),
  fc.record({
    at: fc.constantFrom(
      "trays" as const,
      "count" as const,
      "rework" as const,
      "strays" as const,
      "sign" as const,
    ),
    batch: id,
    look: id,
  }),
  fc.record({
    at: fc.constantFrom("tally" as const, "end" as const, "entries" as const),
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

describe("languages", () => {
  afterEach(() => {
    vi.unstubAllGlobals();
    language.value = "en";
  });

  test("of two choices in a row the last holds", async () => {
    const root = { lang: "en" };
    vi.stubGlobal("document", { documentElement: root });
    vi.stubGlobal("history", { replaceState: () => undefined });
    await Promise.all([speak("de"), speak("en"), speak("de")]);
    expect([language.value, root.lang]).toEqual(["de", "de"]);
    await Promise.all([speak("de"), speak("en")]);
    expect([language.value, root.lang]).toEqual(["en", "en"]);
  });
});
