// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { closingOf, countTray, openRepeats } from "../../../static/src/bench/tray_counts.js";
import { foldTally, type Tally } from "../../../static/src/folds/tally.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, DEFINITION, PART, record, TRAY } from "./demo_words.js";

const fold = (records: ReadRecord[]): Tally => foldTally(records, new Map([[PART, DEFINITION]]));
const find = (n: number, defect: string, more: object = {}): ReadRecord =>
  record(n, "defect_tallied", { look: "first", tray: TRAY, defect, ...more });

describe("the counts of a tray", () => {
  test("a critical piece is locked and among the rejects; a not-sure piece is a query", () => {
    const counts = countTray(fold([find(10, "lap"), find(11, "staining"), find(12, "not_sure")]), TRAY);
    expect(counts).toMatchObject({
      marked: 3,
      rejected: 2,
      locked: 1,
      query: 1,
    });
  });

  test("a piece has one verdict, the worst of its marks", () => {
    const piece = `${CHAIN}:10`;
    const counts = countTray(
      fold([find(10, "not_sure"), find(11, "staining", { piece }), find(12, "lap", { piece })]),
      TRAY,
    );
    expect(counts).toMatchObject({
      marked: 1,
      rejected: 1,
      locked: 1,
      query: 0,
    });
    expect(counts.marks.get("staining")).toBe(1);
  });

  test("a zone decides the class, and none said is the worst", () => {
    const unsaid = countTray(fold([find(10, "scratch")]), TRAY);
    const said = countTray(fold([find(10, "scratch", { zone: "flank" })]), TRAY);
    expect([unsaid.locked, said.locked]).toEqual([1, 0]);
  });

  test("a second tap counts for nothing until somebody says it was two", () => {
    const tally = fold([find(10, "lap"), find(11, "lap", { quick_repeat: true })]);
    expect(countTray(tally, TRAY).marked).toBe(1);
    expect(openRepeats(tally, TRAY, new Set()).map((mark) => mark.id)).toEqual([`${CHAIN}:11`]);
    expect(openRepeats(tally, TRAY, new Set([`${CHAIN}:11`]))).toEqual([]);
  });

  test("another tray's finds are not this tray's", () => {
    expect(countTray(fold([find(10, "lap", { tray: `${CHAIN}:4` })]), TRAY).marked).toBe(0);
  });
});

describe("the closing of a tray", () => {
  test("its numbers make up the places, or it does not fit", () => {
    const naturals = fc.integer({ min: 0, max: 80 });
    fc.assert(
      fc.property(naturals, naturals, naturals, (rejected, query, empty) => {
        const marked = rejected + query;
        const counts = { marks: new Map(), marked, rejected, query, locked: 0 };
        const closing = closingOf(counts, 60, empty);
        expect(closing.fits).toBe(marked + empty <= 60);
        if (closing.fits) {
          expect(closing.accepted + closing.rejected + closing.query + empty).toBe(60);
        }
      }),
    );
  });
});
