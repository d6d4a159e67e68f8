// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { offerFor, type Offer } from "../../../static/src/bench/verdict_offer.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, DEFINITION, foldHere, record, SIGN_ON, TRAY } from "./demo_words.js";

const PIECE = `${CHAIN}:10`;
const find = (n: number, defect: string, more: object = {}, signOn = SIGN_ON): ReadRecord =>
  record(n, "defect_tallied", { look: "first", tray: TRAY, defect, ...more }, signOn);
const offer = (...records: ReadRecord[]): Offer | undefined =>
  offerFor(foldHere(records), DEFINITION, "first", PIECE, SIGN_ON);

describe("a verdict is open to the finder", () => {
  test("of a piece with a minor mark, and the list says how it is reworked", () => {
    expect(offer(find(10, "staining"))).toEqual({ piece: PIECE, settles: [PIECE], instruction: "wipe" });
  });

  test("of all its minor marks together", () => {
    const marks = offer(find(10, "staining"), find(11, "staining", { piece: PIECE }));
    expect(marks?.settles).toEqual([PIECE, `${CHAIN}:11`]);
  });

  test("without rework where the list has no word about it", () => {
    expect(offer(find(10, "rub"))?.instruction).toBeUndefined();
    expect(offer(find(10, "staining"), find(11, "rub", { piece: PIECE }))?.instruction).toBeUndefined();
  });

  test("where the place on the piece makes the mark a minor one, and not where it is left open", () => {
    expect(offer(find(10, "scratch", { zone: "flank" }))).toBeDefined();
    expect(offer(find(10, "scratch"))).toBeUndefined();
  });

  test.each(["lap", "underfill", "not_sure"])(
    "and not of a piece with a mark that is not minor: %s",
    (defect) => {
      expect(offer(find(10, defect))).toBeUndefined();
      expect(offer(find(10, "staining"), find(11, defect, { piece: PIECE }))).toBeUndefined();
    },
  );

  test("and not where somebody else marked the piece too", () => {
    expect(offer(find(10, "staining"), find(11, "rub", { piece: PIECE }, `${CHAIN}:9`))).toBeUndefined();
  });

  test("and not twice", () => {
    const body = { look: "first", piece: PIECE, verdict: "accept" as const, settles: [PIECE] };
    expect(offer(find(10, "staining"), record(11, "piece_judged", body))).toBeUndefined();
  });
});
