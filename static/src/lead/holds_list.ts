// SPDX-License-Identifier: Apache-2.0
// The server's list of holds, requests and queries, held to its shape; and in which order somebody reads it.
import { byText } from "../folds/gathered.js";
import { boolean, integer, list, object, pattern, text } from "../records/shape.js";

const word = text(0, 400);
const time = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
/** Where a hold or a query stands: a newer server says it, and for a batch as a whole there is no such place. */
const place = {
  number: integer(0, Number.MAX_SAFE_INTEGER),
  finder: word,
  tag: word,
  pictures: list(object({ needed: { file: pattern(/^[0-9a-f]{64}$/), here: boolean } }, true)),
};
const shape = object(
  {
    needed: {
      as_of: time,
      holds: list(
        object(
          {
            needed: {
              hold: word,
              batch: word,
              cause: word,
              look: word,
              cause_withdrawn: boolean,
              said: word,
              at: time,
            },
            optional: place,
          },
          true,
        ),
      ),
      queries: list(
        object({ needed: { batch: word, look: word, piece: word, at: time }, optional: place }, true),
      ),
      requests: list(
        object(
          {
            needed: {
              request: word,
              batch: word,
              kind: word,
              state: word,
              reasons: list(word),
              asked_at: time,
            },
          },
          true,
        ),
      ),
      batches: list(
        object(
          {
            needed: {
              batch: word,
              number: word,
              seen: list(object({ needed: { chain: word, n: integer(1, Number.MAX_SAFE_INTEGER) } }, true)),
            },
          },
          true,
        ),
      ),
    },
  },
  true,
);

/** A picture by its file, and whether its bytes have come. */
export interface PictureLine {
  readonly file: string;
  readonly here: boolean;
}

/** A tray's number, the name of who found it, the tag on the piece, and pictures of it. */
export interface PlaceLine {
  readonly look: string;
  readonly number?: number;
  readonly finder?: string;
  readonly tag?: string;
  readonly pictures?: readonly PictureLine[];
}

export interface HoldLine extends PlaceLine {
  readonly hold: string;
  readonly batch: string;
  readonly cause: string;
  readonly cause_withdrawn: boolean;
  readonly said: string;
  readonly at: number;
}

export interface QueryLine extends PlaceLine {
  readonly batch: string;
  readonly piece: string;
  readonly at: number;
}

export interface RequestLine {
  readonly request: string;
  readonly batch: string;
  readonly kind: string;
  readonly state: string;
  readonly reasons: readonly string[];
  readonly asked_at: number;
}

export interface HeldBatch {
  readonly batch: string;
  readonly number: string;
  readonly seen: { readonly chain: string; readonly n: number }[];
}

export interface HoldsList {
  readonly as_of: number;
  readonly holds: readonly HoldLine[];
  readonly queries: readonly QueryLine[];
  readonly requests: readonly RequestLine[];
  readonly batches: readonly HeldBatch[];
}

/** The answer as a list; undefined when it is not what was asked for. */
export function holdsFrom(value: unknown): HoldsList | undefined {
  return shape(value) === undefined ? (value as HoldsList) : undefined;
}

/** Batches that wait for somebody, and those of which everything is decided. */
export interface InReadingOrder {
  readonly waiting: readonly HeldBatch[];
  readonly decided: readonly HeldBatch[];
}

/**
 * Critical finds first, then holds, then pieces nobody was sure of, then what waits for a second name.
 *
 * first  the batch somebody came for: it stands above all
 */
export function inReadingOrder(listed: HoldsList, first: string | undefined): InReadingOrder {
  const { holds, queries, requests } = listed;
  const waits: readonly (readonly { readonly batch: string }[])[] = [
    holds.filter(({ cause }) => cause === "critical"),
    holds,
    queries,
    requests.filter(({ state }) => state === "open"),
  ];
  const ranked = listed.batches.map((batch) => {
    const rank = waits.findIndex((lines) => lines.some((line) => line.batch === batch.batch));
    return { batch, rank: batch.batch === first ? -1 : rank < 0 ? waits.length : rank };
  });
  ranked.sort((left, right) => left.rank - right.rank || byText(left.batch.number, right.batch.number));
  const of = (lines: typeof ranked): readonly HeldBatch[] => lines.map(({ batch }) => batch);
  return {
    waiting: of(ranked.filter(({ rank }) => rank < waits.length)),
    decided: of(ranked.filter(({ rank }) => rank === waits.length)),
  };
}
