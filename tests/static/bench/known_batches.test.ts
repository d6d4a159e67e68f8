// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { knownBatches, withNumber } from "../../../static/src/bench/known_batches.js";
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
});
