// SPDX-License-Identifier: Apache-2.0
// What came after a batch was released: whatever the granted request had not seen opens the batch again.
//
// The server's folds/release.py is the same function; tests/vectors/bench holds both to the same answers.
import type { Request } from "./requests.js";
import { counts, Seen } from "./seen.js";
import type { Gathered } from "./gathered.js";

/** A granted release, and the records that count and were not seen by it; none: the batch is released. */
export interface Release {
  readonly request: string;
  readonly late: readonly string[];
}

/** Fold all records of one batch; in the order of the requests. */
export function foldReleases({ known }: Gathered, requests: readonly Request[]): readonly Release[] {
  return requests.flatMap(({ id, state }) => {
    const asked = known.get(id)?.known;
    if (state !== "granted" || asked?.kind !== "release_requested") return [];
    const seen = new Seen(asked.body.seen);
    const late = [...known.values()].filter((record) => counts(record) && !seen.covers(record.id));
    return [{ request: id, late: late.map((record) => record.id) }];
  });
}
