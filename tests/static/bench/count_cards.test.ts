// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import {
  dealt,
  furtherNumber,
  piecesOn,
  withCard,
  withoutCard,
} from "../../../static/src/bench/count_cards.js";

describe("cards of a count", () => {
  test("full trays come first, and what is left lies in one more", () => {
    const cards = dealt(2, 60, 58);
    expect(cards).toEqual([
      { number: 1, pieces: 60 },
      { number: 2, pieces: 60 },
      { number: 3, pieces: 58 },
    ]);
    expect(piecesOn(cards)).toBe(178);
  });

  test("nothing left means no further tray", () => {
    expect(dealt(3, 60, 0)).toHaveLength(3);
    expect(dealt(0, 60, 0)).toEqual([]);
  });

  test("a card is put right in its place, and a new number is a further card", () => {
    expect(withCard(dealt(3, 60, 0), { number: 2, pieces: 59 }).map((card) => card.pieces)).toEqual([
      60, 59, 60,
    ]);
    expect(withCard(dealt(1, 60, 0), { number: 9, pieces: 4 })).toHaveLength(2);
  });

  test("a tray that is not there is taken out, and its number comes again only behind the highest", () => {
    const cards = withoutCard(dealt(3, 60, 0), 2);
    expect(cards.map((card) => card.number)).toEqual([1, 3]);
    expect(furtherNumber(cards)).toBe(4);
    expect(furtherNumber([])).toBe(1);
  });
});
