// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import {
  bearing,
  inWork,
  knownBatches,
  numbered,
  withNumber,
} from "../../../static/src/bench/known_batches.js";
import { BATCH, PART, record } from "./demo_words.js";

const line = (number: string, opened_at: number, batch = BATCH) => ({
  batch,
  number,
  part: "P-1 A",
  definition: PART,
  pieces: 240,
  opened_at,
});

describe("the batches a tablet knows", () => {
  test("come from the list and from its own records, the newest first, each once", () => {
    const own = record(7, "batch_opened", { number: "P1-0002", pieces: 60 });
    const found = knownBatches([line("P1-0001", 5), line("P1-0002", 9, own.id)], [own], () => "own");
    expect(found.map((one) => one.number)).toEqual(["P1-0002", "P1-0001"]);
    expect(found[0]?.part).toBe("P-1 A");
  });

  test("are there without a list", () => {
    const own = record(7, "batch_opened", { number: "P1-0002", pieces: 60 });
    expect(knownBatches([], [own], () => "P-1 A")).toMatchObject([{ number: "P1-0002", part: "P-1 A" }]);
  });

  test("are found by any part of the number, without its dash and in small letters", () => {
    const lines = [line("SK70-0501", 1), line("SK70-0417", 2)];
    expect(withNumber(lines, "700501").map((one) => one.number)).toEqual(["SK70-0501"]);
    expect(withNumber(lines, "sk70-04")).toHaveLength(1);
    expect(withNumber(lines, "")).toHaveLength(2);
    expect(withNumber(lines, "99")).toEqual([]);
  });

  test("are offered until they are released, and found by their number behind it", () => {
    const lines = [line("SK70-0501", 1), { ...line("SK70-0417", 2, "b:2"), released: true }];
    expect(inWork(lines)).toEqual([lines[0]]);
    expect(withNumber(lines, "0417")).toEqual([lines[1]]);
    expect(numbered(lines, "SK70-0417")).toBe(lines[1]);
  });

  test.each([" sk70-0417", "SK70 -0417", "SK70-0417", "SK70 0417"])("bear the number '%s'", (number) => {
    const lines = [line("SK70-0501", 1), line("SK70-0417", 2)];
    expect(bearing(lines, number)).toEqual([lines[1]]);
    expect(numbered(lines, number)).toBe(lines[1]);
  });

  test.each(["", "  ", "SK70-041", "SK70-04170"])("do not bear the number '%s'", (number) => {
    expect(bearing([line("SK70-0417", 2), line("-", 3)], number)).toEqual([]);
  });

  test("are none for a scanner where two bear the number, and both are named", () => {
    const lines = [line("SK70-0417", 1, "b:1"), line("SK70-0417", 2, "b:2")];
    expect([bearing(lines, "SK70-0417"), numbered(lines, "SK70-0417")]).toEqual([lines, undefined]);
  });
});
