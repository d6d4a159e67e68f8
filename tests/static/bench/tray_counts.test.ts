// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  closingOf,
  countTray,
  dueIn,
  isKeptTogether,
  openRepeats,
  takenOut,
} from "../../../static/src/bench/tray_counts.js";
import type { BenchState } from "../../../static/src/folds/bench.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, foldHere, record, SIGN_ON, TRAY } from "./demo_words.js";

const fold = (records: ReadRecord[]): BenchState => foldHere(records);
const find = (n: number, defect: string, more: object = {}): ReadRecord =>
  record(n, "defect_tallied", { look: "first", tray: TRAY, defect, ...more });
const judge = (n: number, found: number, verdict: "accept" | "rework"): ReadRecord =>
  record(n, "piece_judged", {
    look: "first",
    piece: `${CHAIN}:${found}`,
    verdict,
    settles: [`${CHAIN}:${found}`],
  });

describe("the counts of a tray", () => {
  test("a critical piece is locked and among the rejects; a not-sure piece is a query", () => {
    const counts = countTray(fold([find(10, "lap"), find(11, "staining"), find(12, "not_sure")]), TRAY);
    expect(counts).toMatchObject({ marked: 3, rejected: 2, locked: 1, rework: 0, query: 1 });
  });

  test("a piece has one verdict, the worst of its marks", () => {
    const piece = `${CHAIN}:10`;
    const counts = countTray(
      fold([find(10, "not_sure"), find(11, "staining", { piece }), find(12, "lap", { piece })]),
      TRAY,
    );
    expect(counts).toMatchObject({ marked: 1, rejected: 1, locked: 1, query: 0 });
    expect(counts.marks.get("staining")).toBe(1);
  });

  test("a zone decides the class, and none said is the worst", () => {
    const unsaid = countTray(fold([find(10, "scratch")]), TRAY);
    const said = countTray(fold([find(10, "scratch", { zone: "flank" })]), TRAY);
    expect([unsaid.locked, said.locked]).toEqual([1, 0]);
  });

  test("a second tap counts for nothing until somebody says it was two", () => {
    const bench = fold([find(10, "lap"), find(11, "lap", { quick_repeat: true })]);
    expect(countTray(bench, TRAY).marked).toBe(1);
    expect(openRepeats(bench.tally, TRAY, new Set()).map((mark) => mark.id)).toEqual([`${CHAIN}:11`]);
    expect(openRepeats(bench.tally, TRAY, new Set([`${CHAIN}:11`]))).toEqual([]);
  });

  test("another tray's finds are not this tray's", () => {
    expect(countTray(fold([find(10, "lap", { tray: `${CHAIN}:4` })]), TRAY).marked).toBe(0);
  });

  test("a minor mark its finder accepted is no reject, and its mark still counts", () => {
    const counts = countTray(fold([find(10, "staining"), judge(11, 10, "accept")]), TRAY);
    expect(counts).toMatchObject({ marked: 1, accepted: 1, rejected: 0 });
    expect([counts.marks.get("staining"), takenOut(counts)]).toEqual([1, 0]);
  });

  test("a piece that goes to rework is out of the tray and no reject", () => {
    const counts = countTray(fold([find(10, "staining"), judge(11, 10, "rework")]), TRAY);
    expect(counts).toMatchObject({ rework: 1, rejected: 0, accepted: 0 });
    expect(takenOut(counts)).toBe(1);
  });
});

describe("what is due in a tray", () => {
  const counted = record(9, "pieces_counted", {
    look: "first",
    pieces: 57,
    trays: [{ number: 1, pieces: 57 }],
  });

  test("is what its card says, once somebody proven counted the look in", () => {
    const bench = foldHere([counted], new Map([[SIGN_ON, "someone"]]));
    expect([dueIn(bench, "first", 1, 60), dueIn(bench, "first", 2, 60)]).toEqual([57, 60]);
  });

  test("is its places as long as nobody did", () => {
    expect(dueIn(fold([counted]), "first", 1, 60)).toBe(60);
  });
});

describe("a tray with a lock", () => {
  const isKept = (records: ReadRecord[]): boolean =>
    isKeptTogether(fold(records), new Map(records.map((one) => [one.id, one])), TRAY);

  test("is kept together, also once the find was taken back", () => {
    expect(isKept([find(10, "lap")])).toBe(true);
    expect(isKept([find(10, "lap"), record(11, "record_withdrawn", { record: `${CHAIN}:10` })])).toBe(true);
  });

  test("is one whose own find caused the hold", () => {
    expect(isKept([find(10, "lap", { tray: `${CHAIN}:4` }), find(11, "staining")])).toBe(false);
  });
});

describe("the closing of a tray", () => {
  test("its numbers make up the places, or it does not fit", () => {
    const naturals = fc.integer({ min: 0, max: 30 });
    fc.assert(
      fc.property(
        fc.record({ accepted: naturals, rejected: naturals, rework: naturals, query: naturals }),
        naturals,
        (said, empty) => {
          const marked = said.accepted + said.rejected + said.rework + said.query;
          const closing = closingOf({ marks: new Map(), marked, locked: 0, ...said }, 60, empty);
          expect(closing.fits).toBe(marked + empty <= 60);
          if (closing.fits) {
            expect(closing.accepted + said.rejected + said.rework + said.query + empty).toBe(60);
          }
        },
      ),
    );
  });
});
