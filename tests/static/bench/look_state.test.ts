// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { lookState, type LookState } from "../../../static/src/bench/look_state.js";
import { foldBench } from "../../../static/src/folds/bench.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { PART } from "../folds/bench.js";
import { HOOK, ofBatch, PEOPLE, Tablet } from "../folds/looking.js";

/** The first look as the tablet of one chain knows it, from what all of them recorded. */
function stateOf(here: Tablet, others: readonly Tablet[] = [], proven = true): LookState {
  const records = ofBatch(here, ...others);
  const authors = new Map(
    (Object.keys(PEOPLE) as (keyof typeof PEOPLE)[]).map((letter) => [
      `${letter.repeat(26)}:2`,
      PEOPLE[letter],
    ]),
  );
  const known = proven ? authors : new Map<string, string>();
  const byId = new Map<string, ReadRecord>(records.map((one) => [one.id, one]));
  const bench = foldBench(records, new Map([[PART, HOOK]]), known);
  return lookState(bench, byId, known, "first", here.records[0]?.chain ?? "");
}

const numbers = (state: LookState): number[] => state.cards.map((card) => card.number);

describe("the state of a look", () => {
  test("without a count the next tray has the lowest number that was not begun in this look", () => {
    const tablet = new Tablet("a");
    expect(stateOf(tablet).nextNumber).toBe(1);
    tablet.open(1, 60);
    tablet.open(3, 60);
    expect(stateOf(tablet).nextNumber).toBe(2);
  });

  test("trays of another look take no number of this one", () => {
    const tablet = new Tablet("a", "second");
    tablet.open(1, 60);
    expect(stateOf(tablet).nextNumber).toBe(1);
    expect(stateOf(tablet).cards).toEqual([]);
  });

  test("with a count every card is there, and the next tray is the first that was not begun", () => {
    const [tablet, counter] = [new Tablet("a"), new Tablet("d")];
    counter.count([
      [1, 60],
      [2, 60],
      [7, 58],
    ]);
    tablet.lookThrough(1, 60);
    const state = stateOf(tablet, [counter]);
    expect([state.due, numbers(state), state.nextNumber]).toEqual([178, [1, 2, 7], 2]);
  });

  test("a count by nobody who is proven makes nothing due", () => {
    const [tablet, counter] = [new Tablet("a"), new Tablet("d")];
    counter.count([[1, 60]]);
    expect(stateOf(tablet, [counter], false).due).toBeUndefined();
  });

  test("when every due tray was begun, no further one is offered", () => {
    const [tablet, counter] = [new Tablet("a"), new Tablet("d")];
    counter.count([[1, 60]]);
    tablet.open(1, 60);
    expect(stateOf(tablet, [counter]).nextNumber).toBeUndefined();
  });

  test("pieces count as looked at once their tray is closed, without its empty places", () => {
    const tablet = new Tablet("a");
    tablet.close(tablet.open(1, 60), 60, 0, { empty: 5 });
    tablet.open(2, 60);
    const { lookedAt, waiting } = stateOf(tablet);
    expect([lookedAt, waiting]).toEqual([55, 0]);
  });

  test("pieces of a tray that nobody proven has closed are not looked at: they wait for their author", () => {
    const tablet = new Tablet("a");
    tablet.close(tablet.open(1, 60), 60, 0, { empty: 5 });
    const { lookedAt, waiting, own } = stateOf(tablet, [], false);
    expect([lookedAt, waiting, own]).toEqual([0, 55, []]);
  });

  test("an open tray is gone on with only where it was begun", () => {
    const [tablet, other] = [new Tablet("a"), new Tablet("b")];
    const tray = tablet.open(1, 60);
    expect(stateOf(tablet).own.map((one) => one.tray.id)).toEqual([tray]);
    expect(stateOf(other, [tablet]).own).toEqual([]);
    tablet.close(tray, 60);
    expect(stateOf(tablet).own).toEqual([]);
  });

  test("a tray that was left is in nobody's hand, and says up to which place it was looked at", () => {
    const tablet = new Tablet("a");
    const tray = tablet.open(1, 60);
    const given = tablet.leave(tray, 30);
    const state = stateOf(tablet);
    expect(state.own).toEqual([]);
    expect(state.cards[0]?.open[0]?.left).toMatchObject({ given, place: 30 });
  });

  test("a tray that was taken over is gone on with at the tablet that took it, and no longer at the other", () => {
    const [tablet, other] = [new Tablet("a"), new Tablet("b", "first", 60_000)];
    const tray = tablet.open(1, 60);
    other.takeOver(tray, tablet.leave(tray, 30));
    expect(stateOf(other, [tablet]).own.map((one) => one.tray.id)).toEqual([tray]);
    expect(stateOf(tablet, [other]).own).toEqual([]);
    expect(stateOf(tablet, [other]).cards[0]?.open[0]?.left).toBeUndefined();
  });

  test("a tray that was taken over, left again and not taken since is in nobody's hand", () => {
    const [tablet, other] = [new Tablet("a"), new Tablet("b", "first", 60_000)];
    const tray = tablet.open(1, 60);
    other.takeOver(tray, tablet.leave(tray, 30));
    other.leave(tray, 45);
    expect(stateOf(tablet, [other]).cards[0]?.open[0]?.left?.place).toBe(45);
  });

  test("a number begun on two tablets shows both trays under one card, and merges nothing", () => {
    const [tablet, other] = [new Tablet("a"), new Tablet("b")];
    tablet.lookThrough(5, 55);
    other.lookThrough(5, 55);
    const card = stateOf(tablet, [other]).cards[0];
    expect(card?.closed.map((one) => one.pieces)).toEqual([55, 55]);
    expect(stateOf(tablet, [other]).lookedAt).toBe(110);
  });
});
