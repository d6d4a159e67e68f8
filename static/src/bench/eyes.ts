// SPDX-License-Identifier: Apache-2.0
// Who had how many pieces in hand at the earlier looks: all that a second look is told of the first.
import { byText } from "../folds/gathered.js";
import type { Tally, Tray } from "../folds/tally.js";
import type { ReadRecord } from "../records/kinds.js";
import { integer, list, object, text } from "../records/shape.js";

const word = text(0, 400);
const natural = integer(0, Number.MAX_SAFE_INTEGER);
const shape = object(
  {
    needed: {
      as_of: integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER),
      looked: natural,
      eyes: list(object({ needed: { look: word, person: word, name: word, pieces: natural } }, true)),
    },
  },
  true,
);

/** `looked`: pieces looked at in the earlier looks, of these the largest number. */
export interface Eyes {
  readonly as_of: number;
  readonly looked: number;
  readonly eyes: readonly {
    readonly look: string;
    readonly person: string;
    readonly name: string;
    readonly pieces: number;
  }[];
}

/** The answer; undefined when it is not what was asked for. */
export function eyesFrom(value: unknown): Eyes | undefined {
  return shape(value) === undefined ? (value as Eyes) : undefined;
}

/** The most pieces a person had in hand at one earlier look. */
export function hadInHand({ eyes }: Eyes, person: string): number {
  return Math.max(0, ...eyes.filter((one) => one.person === person).map((one) => one.pieces));
}

/** Of some pieces: those that are surely new to a person's eyes, perhaps, and surely not. */
export interface Share {
  readonly certain: number;
  readonly possible: number;
  readonly never: number;
}

/**
 * The share of one person, who will have had `pieces` of `all` in hand at this look, and had `before` at an earlier
 * one. Order is lost between two looks, so that the counts are all there is to go by; folds/look.ts says it for all.
 */
export function shareOf(pieces: number, before: number, all: number): Share {
  const most = Math.min(pieces, before);
  const never = Math.min(most, Math.max(0, pieces + before - Math.max(all, pieces, before)));
  return { certain: pieces - most, possible: most - never, never };
}

/** One person the next tray could be handed to; `more` of its pieces may meet the same eyes again. */
export interface Hands {
  readonly person: string;
  readonly name: string;
  readonly more: number;
}

/**
 * Whom the next tray is handed to, best first: whoever adds the fewest pieces that the same eyes may meet again.
 *
 * Which tray it is does not matter, because order is lost between two looks; how many pieces a person gets does. Of
 * hands that add as many, those come first that had fewer pieces before: nothing is added once all of them may be met.
 *
 * already   pieces each person had in hand at this look up to now
 * next      pieces of the tray
 */
export function handOut(
  eyes: Eyes,
  inspectors: readonly { readonly id: string; readonly name: string }[],
  already: (person: string) => number,
  next: number,
): readonly Hands[] {
  return inspectors
    .map(({ id, name }) => {
      const before = hadInHand(eyes, id);
      const had = already(id);
      return { person: id, name, before, more: Math.min(had + next, before) - Math.min(had, before) };
    })
    .sort((one, other) => one.more - other.more || one.before - other.before || byText(one.name, other.name));
}

/** The trays of a look that a person has had in hand: marked in, closed, left or taken over. */
export function traysInHand(
  person: string,
  look: string,
  tally: Tally,
  records: ReadonlyMap<string, ReadRecord>,
  personOf: (signOn: string) => string | undefined,
): readonly Tray[] {
  const isTheirs = (record: ReadRecord | undefined): boolean => personOf(record?.sign_on ?? "") === person;
  const handled = new Set(
    [...records.values()].flatMap((record) => {
      const { known } = record;
      const isHandled =
        known?.kind === "handover_given" ||
        known?.kind === "handover_taken" ||
        known?.kind === "defect_tallied" ||
        known?.kind === "tray_closed";
      return isHandled && isTheirs(record) ? [known.body.tray] : [];
    }),
  );
  return tally.trays.filter((tray) => tray.look === look && handled.has(tray.id));
}
