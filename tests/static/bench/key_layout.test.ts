// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { layKeys, pagesOf, type Row } from "../../../static/src/bench/key_layout.js";
import { classesOf } from "../../../static/src/bench/word_class.js";
import type { DefectWord } from "../../../static/src/records/kinds.js";
import { SCRATCH, word } from "./demo_words.js";

const placed = (rows: readonly Row[]): string[] =>
  rows.flatMap((row) => row.places.flatMap((place) => (place ? [place.defect] : [])));

const someWords = fc
  .uniqueArray(fc.constantFrom(..."abcdefghijklmnop".split("")), {
    maxLength: 16,
  })
  .chain((names) =>
    fc.tuple(
      ...names.map((name) =>
        fc
          .record({
            defectClass: fc.constantFrom("critical", "major", "minor" as const),
            lookAlike: fc.option(fc.constantFrom(...names)),
          })
          .map(({ defectClass, lookAlike }) =>
            word(name, defectClass, lookAlike === null || lookAlike === name ? undefined : lookAlike),
          ),
      ),
    ),
  );
const columns = fc.integer({ min: 1, max: 5 });
const isCritical = (one: DefectWord): boolean => classesOf(one).has("critical") && classesOf(one).size === 1;

describe("the places of the keys", () => {
  test("every word has exactly one key", () => {
    fc.assert(
      fc.property(someWords, columns, (words, width) => {
        expect(placed(layKeys(words, width)).sort()).toEqual(words.map((one) => one.defect).sort());
      }),
    );
  });

  test("no row is longer than the pad is wide", () => {
    fc.assert(
      fc.property(someWords, columns, (words, width) => {
        const rows = layKeys(words, width);
        expect(rows.every((row) => row.places.length <= width)).toBe(true);
      }),
    );
  });

  test("critical words stand in rows of their own, above the others", () => {
    fc.assert(
      fc.property(someWords, columns, (words, width) => {
        const rows = layKeys(words, width);
        for (const row of rows) {
          const here = row.places.filter((place) => place !== undefined);
          expect(here.every((one) => isCritical(one) === row.critical)).toBe(true);
        }
        const kinds = rows.map((row) => row.critical);
        expect(kinds).toEqual([...kinds].sort((a, b) => Number(b) - Number(a)));
      }),
    );
  });

  test("the same list gives the same places", () => {
    fc.assert(
      fc.property(someWords, columns, (words, width) => {
        expect(layKeys([...words], width)).toEqual(layKeys(words, width));
      }),
    );
  });

  test("a critical word is beside none of its look-alikes where others are there to stand between", () => {
    const words = [
      word("lap", "critical", "scratch"),
      word("cold_shut", "critical", "lap"),
      word("crack", "critical", "lap"),
      word("blister", "critical"),
      SCRATCH,
      word("burn", "major"),
      word("pit", "major"),
      word("stain", "minor"),
    ];
    expect(placed(layKeys(words, 4))).toEqual([
      ...["lap", "blister", "cold_shut", "crack"],
      ...["burn", "scratch", "pit", "stain"],
    ]);
    const three = layKeys(words, 3);
    expect(three[1]?.places.map((place) => place?.defect)).toEqual([undefined, "crack", undefined]);
  });

  test("a word whose class nobody has set stands among the critical ones", () => {
    const [row] = layKeys([word("new"), word("burn", "major")], 4);
    expect(row?.critical).toBe(true);
    expect(placed(row ? [row] : [])).toEqual(["new"]);
  });

  test("pages hold whole rows and lose none", () => {
    fc.assert(
      fc.property(someWords, columns, fc.integer({ min: 1, max: 4 }), (words, width, rowsAtOnce) => {
        const rows = layKeys(words, width);
        const pages = pagesOf(rows, rowsAtOnce);
        expect(pages.flat()).toEqual(rows);
        expect(pages.every((page) => page.length <= rowsAtOnce)).toBe(true);
      }),
    );
  });
});
