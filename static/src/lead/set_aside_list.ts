// SPDX-License-Identifier: Apache-2.0
// What the server set aside, as its list says it.
import { integer, list, object, text } from "../records/shape.js";

/** What was set aside of one chain for one reason; `lines` are the next that can be admitted, by their hashes. */
export interface Aside {
  readonly chain: string;
  readonly letters: string;
  readonly name: string;
  readonly code: string;
  readonly count: number;
  readonly first_at: number;
  readonly last_at: number;
  readonly kinds: readonly { readonly kind: string; readonly count: number }[];
  readonly admissible: number;
  readonly admitted: number;
  readonly lines: readonly string[];
}

const natural = integer(0, Number.MAX_SAFE_INTEGER);
const moment = integer(-Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER);
const word = text(0, 200);
const answerShape = object(
  {
    needed: {
      chains: list(
        object(
          {
            needed: {
              chain: word,
              letters: word,
              name: word,
              code: word,
              count: natural,
              first_at: moment,
              last_at: moment,
              kinds: list(object({ needed: { kind: word, count: natural } }, true)),
              admissible: natural,
              admitted: natural,
              lines: list(word),
            },
          },
          true,
        ),
      ),
    },
  },
  true,
);

/** The server's list; undefined when the answer is not what was asked for. */
export function asideFrom(value: unknown): readonly Aside[] | undefined {
  if (answerShape(value) !== undefined) return undefined;
  return (value as { readonly chains: readonly Aside[] }).chains;
}
