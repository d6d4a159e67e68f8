// SPDX-License-Identifier: Apache-2.0
// The answers of the server's API as the tablet reads them. Members that a newer server adds are let through.
import { boolean, integer, list, object, text, type Shape } from "../records/shape.js";

/** The protocol this app speaks; an answer of another is not understood. */
export const PROTOCOL = 1;
export const MARKER = "tallywright";

const word = text(0, 400);
const natural = integer(0, Number.MAX_SAFE_INTEGER);
const time = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);

export interface WorksAnswer {
  readonly name: string;
  readonly time_zone: string;
  readonly demo: boolean;
  readonly server_time: number;
}
export const worksShape = open({ name: word, time_zone: word, demo: boolean, server_time: time });

export interface EnrolmentAnswer {
  readonly device: string;
  readonly letters: string;
  readonly site: string;
  readonly server_time: number;
}
export const enrolmentShape = open({ device: word, letters: word, site: word, server_time: time });

export interface ChallengeAnswer {
  readonly challenge: string;
}
export const challengeShape = open({ challenge: word });

export interface SessionAnswer {
  readonly device: string;
}
export const sessionShape = open({ device: word });

export interface PushAnswer {
  readonly epoch: string;
  readonly server_time: number;
  readonly newest: number;
  readonly marks: readonly {
    readonly chain: string;
    readonly n: number;
    readonly hash: string;
    readonly held: readonly { readonly first: number; readonly last: number }[];
  }[];
  readonly exceptions: readonly { readonly chain: string; readonly n: number; readonly code: string }[];
}
export const pushShape = open({
  epoch: word,
  server_time: time,
  newest: natural,
  marks: list(
    open({ chain: word, n: natural, hash: word, held: list(open({ first: natural, last: natural })) }),
  ),
  exceptions: list(open({ chain: word, n: natural, code: word })),
});

export interface PullHead {
  readonly epoch: string;
  readonly server_time: number;
  readonly cursor: string;
  readonly count: number;
  readonly more: boolean;
}
export const pullHeadShape = open({
  epoch: word,
  server_time: time,
  cursor: word,
  count: natural,
  more: boolean,
});

export interface BatchesAnswer {
  readonly as_of: number;
  readonly batches: readonly {
    readonly batch: string;
    readonly number: string;
    readonly part: string;
    readonly definition: string;
    readonly pieces: number;
    readonly opened_at: number;
  }[];
}
export const batchesShape = open({
  as_of: time,
  batches: list(
    open({ batch: word, number: word, part: word, definition: word, pieces: natural, opened_at: time }),
  ),
});

/** Every refusal of the server: the code says what it is. */
export interface RefusalAnswer {
  readonly code: string;
  readonly retry: boolean;
}
export const refusalShape = open({ code: word, retry: boolean });

/** Any answer of ours, for reads whose content another room checks. */
export const anyShape = open({});

/** What makes an answer the server's. */
export const signature: Shape = object(
  {
    needed: {
      marker: (value) => (value === MARKER ? undefined : "is not the marker"),
      protocol: (value) => (value === PROTOCOL ? undefined : "is another protocol"),
    },
  },
  true,
);

function open(needed: Readonly<Record<string, Shape>>): Shape {
  return object({ needed }, true);
}
