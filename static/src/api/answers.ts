// SPDX-License-Identifier: Apache-2.0
// The answers of the server's API as the tablet reads them. The types are generated from the server's schemas;
// the shapes are the checks at run time. Members that a newer server adds are let through.
import type { components } from "./described.js";
import { boolean, integer, list, object, oneOf, text, type Shape } from "../records/shape.js";

/** The protocol this app speaks; an answer of another is not understood. */
export const PROTOCOL = 1;
export const MARKER = "tallywright";

type Schemas = components["schemas"];

const word = text(0, 400);
const natural = integer(0, Number.MAX_SAFE_INTEGER);
const time = integer(Number.MIN_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);

export type WorksAnswer = Schemas["Works"];
export const worksShape = open({ name: word, time_zone: word, demo: boolean, server_time: time });

export type ReachAnswer = Schemas["Reach"];
export const reachShape = open({
  secure: word,
  secure_here: word,
  trust_page: word,
  fingerprint: word,
  secure_qr: list(word),
  trust_page_qr: list(word),
});

export type EnrolmentAnswer = Schemas["Enrolled"];
export const enrolmentShape = open({
  state: oneOf("enrolled", "waiting"),
  device: word,
  letters: word,
  site: word,
  number: word,
  server_time: time,
});

export type ChallengeAnswer = Schemas["Challenge"];
export const challengeShape = open({ challenge: word });

export type SessionAnswer = Schemas["Session"];
export const sessionShape = open({ device: word });

export type PushAnswer = Schemas["PushAnswer"];
export const pushShape = open({
  epoch: word,
  server_time: time,
  newest: natural,
  marks: list(
    open({
      chain: word,
      n: natural,
      hash: word,
      safe: natural,
      held: list(open({ first: natural, last: natural })),
    }),
  ),
  exceptions: list(open({ chain: word, n: natural, code: word })),
  lost: list(word),
});

export type PullHead = Schemas["PullHead"];
export const pullHeadShape = open({
  epoch: word,
  server_time: time,
  cursor: word,
  count: natural,
  more: boolean,
  head: open({ chain: word, n: natural, hash: word, signature: word }),
  sealing: open({ name: word, public_key: text(0, 1000) }),
  sign_ons: list(open({ sign_on: word, person: word, proven: boolean })),
  signatures: list(open({ record: word, signature: word })),
  certificate_ends_at: time,
});

export type ArrivedAnswer = Schemas["Arrived"];
export const arrivedShape = open({ file: word, held: natural, whole: boolean, safe: boolean });

export type BatchesAnswer = Schemas["Batches"];
export const batchesShape = open({
  as_of: time,
  batches: list(
    open({
      batch: word,
      number: word,
      part: word,
      definition: word,
      pieces: natural,
      opened_at: time,
      released: boolean,
    }),
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
