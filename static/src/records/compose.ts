// SPDX-License-Identifier: Apache-2.0
// A draft, the head of a chain and the clock's values in; the next record of the chain out.
import { canonical } from "./canonical.js";
import type { Draft, ReadRecord } from "./kinds.js";
import { decode } from "./read.js";

/** The end of a chain: `n` is 0 and `hash` undefined before its first record. */
export interface Head {
  readonly chain: string;
  readonly n: number;
  readonly hash: string | undefined;
}

/** Who writes: the enrolled device and the site it works for. */
export interface Writer {
  readonly device: string;
  readonly site: string | undefined;
}

/** What the clock and the present sign-on say at the moment of the tap. */
export interface Stamp {
  readonly made_at: number;
  readonly offset_min: number;
  readonly time_zone: string;
  readonly skew_ms: number | undefined;
  readonly sign_on: string | undefined;
}

/**
 * The next record of the chain. The head has not moved until the record is in the journal.
 *
 * throws RefusedRecord if the values do not make a record
 */
export function compose(draft: Draft, head: Head, writer: Writer, stamp: Stamp): ReadRecord {
  const line = canonical({
    chain: head.chain,
    n: head.n + 1,
    device: writer.device,
    previous: head.hash,
    made_at: stamp.made_at,
    offset_min: stamp.offset_min,
    time_zone: stamp.time_zone,
    skew_ms: stamp.skew_ms,
    sign_on: stamp.sign_on,
    kind: draft.kind,
    v: draft.v,
    site: writer.site,
    batch: draft.batch,
    definition: draft.definition,
    body: draft.body,
  });
  return decode(line);
}

/** The head after a record was added. */
export function headAfter(record: ReadRecord): Head {
  return { chain: record.chain, n: record.n, hash: record.hash };
}
