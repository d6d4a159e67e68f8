// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { byPieces, fromServer, fromTablet } from "../../../static/src/lead/pareto_view.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, DEFINITION, PART, record, TRAY } from "../bench/demo_words.js";

const find = (n: number, defect: string, more: object = {}): ReadRecord =>
  record(n, "defect_tallied", { look: "first", tray: TRAY, defect, ...more });
const ALL = { from: 0, to: Number.MAX_SAFE_INTEGER, shift: "" };
const view = (records: ReadRecord[], span = ALL) => fromTablet(records, new Map([[PART, DEFINITION]]), span);

describe("the tablet's own Pareto", () => {
  test("sorts marks, counts pieces once, and ends at exactly the whole", () => {
    const shown = view([find(10, "staining"), find(11, "lap"), find(12, "lap", { piece: `${CHAIN}:10` })]);
    expect(shown).toMatchObject({ marks: 3, pieces: 2, source: "tablet" });
    expect(shown.bars.map((bar) => bar.name)).toEqual(["lap", "staining"]);
    expect(shown.bars.at(-1)?.cumulative).toBe(1);
  });

  test("holds only what was found in its span, the end not included", () => {
    const first = find(10, "lap");
    const second = find(11, "lap");
    const span = { from: first.made_at, to: second.made_at, shift: "" };
    expect(view([first, second], span).marks).toBe(1);
  });

  test("leaves out second taps", () => {
    expect(view([find(10, "lap"), find(11, "lap", { quick_repeat: true })]).marks).toBe(1);
  });
});

describe("the bars by pieces", () => {
  test("fall, and their last cumulative share is exactly 1", () => {
    const counts = fc.array(fc.integer({ min: 1, max: 5000 }), {
      minLength: 1,
      maxLength: 20,
    });
    fc.assert(
      fc.property(counts, (pieces) => {
        const bars = byPieces(
          pieces.map((count, place) => ({
            name: `w${place}`,
            label: `w${place}`,
            sort: "value",
            looked: 0,
            too_few_to_rank: false,
            count,
            pieces: count,
            share: 0,
            cumulative: 0,
          })),
        );
        expect(bars.at(-1)?.cumulative).toBe(1);
        expect(bars.map((bar) => bar.pieces)).toEqual([...pieces].sort((a, b) => b - a));
      }),
    );
  });
});

describe("the server's answer", () => {
  const answer = {
    marker: "tallywright",
    from: 1,
    to: 2,
    shift: "night",
    marks: 1,
    pieces: 1,
    looked: 60,
    perhaps: 0,
    unplaced: 0,
    bars: [
      {
        name: "lap",
        sort: "value",
        label: "lap",
        count: 1,
        pieces: 1,
        looked: 0,
        share: 1,
        cumulative: 1,
        too_few_to_rank: false,
      },
    ],
  };

  test("is shown as it is", () => {
    expect(fromServer(answer)).toMatchObject({
      source: "server",
      span: { shift: "night" },
      marks: 1,
    });
  });

  test("of another shape, or none, is no answer", () => {
    expect(fromServer(undefined)).toBeUndefined();
    expect(fromServer({ ...answer, bars: [{ name: "lap" }] })).toBeUndefined();
    expect(fromServer("<html>")).toBeUndefined();
  });
});
