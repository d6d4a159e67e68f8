// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { seenOfLook } from "../../../static/src/bench/look_seen.js";
import { foldBench } from "../../../static/src/folds/bench.js";
import { PART } from "../folds/bench.js";
import { HOOK, ofBatch, PEOPLE, Tablet } from "../folds/looking.js";

describe("what a signature has seen", () => {
  test("each chain is seen as far as this tablet holds it", () => {
    const [one, other] = [new Tablet("a"), new Tablet("b")];
    one.lookThrough(1, 60);
    other.open(2, 60);
    expect(seenOfLook(ofBatch(one, other), "first")).toEqual([
      { chain: "a".repeat(26), n: one.records.length },
      { chain: "b".repeat(26), n: other.records.length },
    ]);
  });

  test("what another look recorded behind it is not seen", () => {
    const one = new Tablet("a");
    one.lookThrough(1, 60);
    const before = one.records.length;
    const second = ofBatch(one);
    const later = new Tablet("b", "second");
    later.lookThrough(1, 60);
    expect(seenOfLook([...second, ...ofBatch(later)], "first")).toEqual([
      { chain: "a".repeat(26), n: before },
    ]);
  });

  test("what belongs to no look is seen with each", () => {
    const one = new Tablet("a");
    one.foundLate();
    expect(seenOfLook(ofBatch(one), "first")).toEqual([{ chain: "a".repeat(26), n: one.records.length }]);
  });

  test("a look signed with it has seen all, and a later record leaves it signed before that came", () => {
    const [one, counter] = [new Tablet("a"), new Tablet("d")];
    counter.count([[1, 60]]);
    const tray = one.lookThrough(1, 60);
    one.sign(seenOfLook(ofBatch(one, counter), "first"));
    const proven = new Map([
      [`${"a".repeat(26)}:2`, PEOPLE.a],
      [`${"d".repeat(26)}:2`, PEOPLE.d],
    ]);
    const points = (): string[] =>
      foldBench(ofBatch(one, counter), new Map([[PART, HOOK]]), proven).looks[0]?.points.map(
        ({ kind }) => kind,
      ) ?? [];
    expect(points()).not.toContain("signed_before_this_came");
    expect(points()).not.toContain("not_signed");
    one.mark(tray, "nick");
    expect(points()).toContain("signed_before_this_came");
  });
});
