// SPDX-License-Identifier: Apache-2.0
// An admission unfolded: the record that a line set aside is from then on, under the admission's id. The server's
// records/admitted.py is the same function; tests/vectors/admitted holds both to the same answers.
import type { KnownRecord, ReadRecord } from "./kinds.js";
import { read } from "./read.js";

/**
 * The admitted record, called by its admission; any other record as it is. The envelope stays the line's; what the
 * line calls by an id that another record has is called by the id under which it was admitted.
 *
 * throws RefusedRecord when the line within is none
 */
export function unfold(record: ReadRecord): ReadRecord {
  const admission = record.known;
  if (admission?.kind !== "set_aside_admitted") return record;
  const inner = read(admission.body.line);
  const names = new Map(admission.body.names.map(({ was, now }) => [was, now]));
  const called = (id: string | undefined): string | undefined =>
    id === undefined ? undefined : (names.get(id) ?? id);
  return {
    id: record.id,
    hash: record.hash,
    chain: inner.chain,
    n: inner.n,
    kind: inner.kind,
    v: inner.v,
    made_at: inner.made_at,
    sign_on: called(inner.sign_on),
    batch: called(inner.batch),
    line: record.line,
    known: inner.known === undefined ? undefined : renamed(inner.known, names),
  };
}

/** Places outside of sign-on, batch and body name no record of the line's own chain but itself and its link. */
function renamed(known: KnownRecord, names: ReadonlyMap<string, string>): KnownRecord {
  if (names.size === 0) return known;
  const { sign_on, batch, body } = renamedValue(
    {
      sign_on: "sign_on" in known ? known.sign_on : undefined,
      batch: "batch" in known ? known.batch : undefined,
      body: known.body,
    },
    names,
  ) as Pick<KnownRecord, "body"> & { sign_on?: string; batch?: string };
  // Only ids are replaced by ids: the form stays what was checked.
  return {
    ...known,
    ...(sign_on === undefined ? {} : { sign_on }),
    ...(batch === undefined ? {} : { batch }),
    body,
  } as KnownRecord;
}

function renamedValue(value: unknown, names: ReadonlyMap<string, string>): unknown {
  if (typeof value === "string") return names.get(value) ?? value;
  if (Array.isArray(value)) return value.map((entry) => renamedValue(entry, names));
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([name, entry]) => [name, renamedValue(entry, names)]));
}
