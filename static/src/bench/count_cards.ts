// SPDX-License-Identifier: Apache-2.0
// The cards of a batch as somebody counts it in: tray by tray, most of them full.

/** What a tray's card says. */
export interface Card {
  readonly number: number;
  readonly pieces: number;
}

/** Full trays from number 1, and one more for the pieces that are left, if there are any. */
export function dealt(full: number, places: number, last: number): readonly Card[] {
  const cards = Array.from({ length: full }, (_, at) => ({ number: at + 1, pieces: places }));
  return last === 0 ? cards : [...cards, { number: full + 1, pieces: last }];
}

export function piecesOn(cards: readonly Card[]): number {
  return cards.reduce((sum, card) => sum + card.pieces, 0);
}

/** The card of that number with other pieces; a number that no card has is a further card. */
export function withCard(cards: readonly Card[], changed: Card): readonly Card[] {
  const others = cards.filter((card) => card.number !== changed.number);
  return [...others, changed].sort((left, right) => left.number - right.number);
}

export function withoutCard(cards: readonly Card[], number: number): readonly Card[] {
  return cards.filter((card) => card.number !== number);
}

/** The number behind the highest one. */
export function furtherNumber(cards: readonly Card[]): number {
  return Math.max(0, ...cards.map((card) => card.number)) + 1;
}
