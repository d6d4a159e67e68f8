// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { eyesFrom, hadInHand, shareOf, traysInHand } from "../../../static/src/bench/eyes.js";
import { foldTally } from "../../../static/src/folds/tally.js";
import { ofBatch, PEOPLE, Tablet } from "../folds/looking.js";

const ANSWER = {
  marker: "tallywright",
  as_of: 1_790_000_000_000,
  looked: 178,
  eyes: [{ look: "first", person: PEOPLE.a, name: "Anna", pieces: 120 }],
};

describe("whose eyes are new", () => {
  test("the answer is taken with its known members, and nothing else is taken for one", () => {
    expect(eyesFrom(ANSWER)?.looked).toBe(178);
    expect(eyesFrom({ ...ANSWER, eyes: [{ person: PEOPLE.a }] })).toBeUndefined();
  });

  test("somebody who was not there had nothing in hand", () => {
    const eyes = { ...ANSWER };
    expect([hadInHand(eyes, PEOPLE.a), hadInHand(eyes, PEOPLE.b)]).toEqual([120, 0]);
  });

  test("who looked at all of it before meets the same pieces, surely", () => {
    expect(shareOf(60, 178, 178)).toEqual({ certain: 0, possible: 0, never: 60 });
  });

  test("who looked at two thirds may meet them again, and meets some of them surely once the rest is used up", () => {
    expect(shareOf(58, 120, 178)).toEqual({ certain: 0, possible: 58, never: 0 });
    expect(shareOf(118, 120, 178)).toEqual({ certain: 0, possible: 58, never: 60 });
  });

  test("the three shares are the pieces, whatever the numbers", () => {
    const count = fc.integer({ min: 0, max: 500 });
    fc.assert(
      fc.property(count, count, count, (pieces, before, all) => {
        const { certain, possible, never } = shareOf(pieces, before, all);
        expect(certain + possible + never).toBe(pieces);
        expect(Math.min(certain, possible, never)).toBeGreaterThanOrEqual(0);
      }),
    );
  });

  test("a tray was in the hands of who marked, closed, left or took it, and of nobody else", () => {
    const [one, other] = [new Tablet("a"), new Tablet("b")];
    const [marked, closed] = [one.open(1, 60), one.open(2, 60)];
    one.mark(marked, "nick");
    other.takeOver(marked, one.leave(marked, 30));
    one.close(closed, 60);
    const records = ofBatch(one, other);
    const byId = new Map(records.map((record) => [record.id, record]));
    const personOf = (signOn: string) => (signOn.startsWith("a") ? PEOPLE.a : PEOPLE.b);
    const of = (person: string): string[] =>
      traysInHand(person, "first", foldTally(records, new Map()), byId, personOf).map((tray) => tray.id);
    expect(of(PEOPLE.a)).toEqual([marked, closed]);
    expect(of(PEOPLE.b)).toEqual([marked]);
    expect(of(PEOPLE.d)).toEqual([]);
  });
});
