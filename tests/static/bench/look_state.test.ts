// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { lookState } from "../../../static/src/bench/look_state.js";
import { foldTally } from "../../../static/src/folds/tally.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { CHAIN, record } from "./demo_words.js";

const opened = (n: number, number: number, look = "first"): ReadRecord =>
  record(n, "tray_opened", { look, number, places: 60 });
const closed = (n: number, tray: number, empty: number): ReadRecord =>
  record(n, "tray_closed", {
    look: "first",
    tray: `${CHAIN}:${tray}`,
    places: 60,
    empty_counted: empty,
    accepted: 60 - empty,
    rejected: 0,
    rework: 0,
    query: 0,
    all_looked_at: true,
  });
const stateOf = (records: ReadRecord[], chain = CHAIN, isProven = true) => {
  const proven = new Map(records.map((one) => [isProven ? (one.sign_on ?? "") : "", "someone"]));
  const byId = new Map(records.map((one) => [one.id, one]));
  return lookState(foldTally(records, new Map(), proven), byId, "first", chain);
};

describe("the state of a look", () => {
  test("the next tray has the lowest number that was not begun in this look", () => {
    expect(stateOf([]).nextNumber).toBe(1);
    expect(stateOf([opened(10, 1), opened(11, 3), opened(12, 2, "second")]).nextNumber).toBe(2);
  });

  test("pieces count as looked at once their tray is closed, without its empty places", () => {
    const { lookedAt, waiting } = stateOf([opened(10, 1), opened(11, 2), closed(12, 10, 5)]);
    expect([lookedAt, waiting]).toEqual([55, 0]);
  });

  test("pieces of a tray that nobody proven has closed are not looked at: they wait for their author", () => {
    const { lookedAt, waiting, own } = stateOf([opened(10, 1), closed(12, 10, 5)], CHAIN, false);
    expect([lookedAt, waiting, own]).toEqual([0, 55, []]);
  });

  test("an open tray is gone on with only where it was begun", () => {
    expect(stateOf([opened(10, 1)]).own).toHaveLength(1);
    expect(stateOf([opened(10, 1)], "b".repeat(26)).own).toEqual([]);
    expect(stateOf([opened(10, 1), closed(11, 10, 0)]).own).toEqual([]);
  });
});
