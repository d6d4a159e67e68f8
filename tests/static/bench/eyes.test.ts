// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { eyesFrom, hadInHand, handOut, shareOf, traysInHand } from "../../../static/src/bench/eyes.js";
import { Gathered } from "../../../static/src/folds/gathered.js";
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

  test("the next tray goes to hands that had none, and then to those that can meet no more again", () => {
    const people = [
      { id: PEOPLE.a, name: "Anna" },
      { id: PEOPLE.b, name: "Ben" },
      { id: PEOPLE.d, name: "Lea" },
    ];
    const eyes = { ...ANSWER, eyes: [...ANSWER.eyes, { ...ANSWER.eyes[0], person: PEOPLE.b, pieces: 58 }] };
    const taken = eyesFrom(eyes);
    const order = (had: Record<string, number>): unknown[] =>
      taken === undefined
        ? []
        : handOut(taken, people, (person) => had[person] ?? 0, 60).map(({ name, more }) => [name, more]);
    expect(order({})).toEqual([
      ["Lea", 0],
      ["Ben", 58],
      ["Anna", 60],
    ]);
    expect(order({ [PEOPLE.b]: 60 })).toEqual([
      ["Lea", 0],
      ["Ben", 0],
      ["Anna", 60],
    ]);
  });

  test("trays handed out in this order meet the same eyes as seldom as any way of dealing them", () => {
    const befores = fc.array(fc.integer({ min: 0, max: 150 }), { minLength: 1, maxLength: 3 });
    const trays = fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(befores, trays, (before, sizes) => {
        const people = before.map((_, place) => ({ id: `p${place}:1`, name: `p${place}` }));
        const eyes = {
          as_of: 0,
          looked: 300,
          eyes: before.map((pieces, place) => ({ look: "first", person: `p${place}:1`, name: "", pieces })),
        };
        const met = (dealt: readonly number[]): number =>
          dealt.reduce((sum, pieces, place) => sum + Math.min(pieces, before[place] ?? 0), 0);
        const had = before.map(() => 0);
        for (const size of sizes) {
          const best = handOut(eyes, people, (id) => had[Number(id.slice(1, 2))] ?? 0, size)[0];
          const place = Number(best?.name.slice(1));
          had[place] = (had[place] ?? 0) + size;
        }
        let least = Infinity;
        const deal = (place: number, dealt: readonly number[]): void => {
          const size = sizes[place];
          if (size === undefined) least = Math.min(least, met(dealt));
          else
            dealt.forEach((_, to) =>
              deal(
                place + 1,
                dealt.map((n, at) => (at === to ? n + size : n)),
              ),
            );
        };
        deal(
          0,
          before.map(() => 0),
        );
        expect(met(had)).toBe(least);
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
      traysInHand(person, "first", foldTally(new Gathered(records), new Map()), byId, personOf).map(
        (tray) => tray.id,
      );
    expect(of(PEOPLE.a)).toEqual([marked, closed]);
    expect(of(PEOPLE.b)).toEqual([marked]);
    expect(of(PEOPLE.d)).toEqual([]);
  });
});
