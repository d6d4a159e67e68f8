// SPDX-License-Identifier: Apache-2.0
// Whose sign-ons are proven to be whose: by the server's judgements among the records, and by the copies of its rows
// for sign-ons whose records this tablet does not hold.
import type { ReadRecord } from "../records/kinds.js";
import type { SignOnCopy } from "./copies.js";

/** What is known of a sign-on: `waiting` until it is judged, `none` when no PIN was given with it. */
export type Proof = "proven" | "not_proven" | "waiting" | "none";

/** Whether the sealed PINs of sign-ons were the persons', by sign-on. Proven once is proven. */
export function judgements(records: Iterable<ReadRecord>): ReadonlyMap<string, boolean> {
  const found = new Map<string, boolean>();
  for (const { known } of records) {
    if (known?.kind !== "sign_on_judged") continue;
    const { sign_on, proven } = known.body;
    found.set(sign_on, proven || (found.get(sign_on) ?? false));
  }
  return found;
}

/** Persons by the sign-ons that were proven to be theirs; where the server's row says otherwise, it holds. */
export function provenAuthors(
  records: readonly ReadRecord[],
  copies: readonly SignOnCopy[],
): ReadonlyMap<string, string> {
  const judged = judgements(records);
  const authors = new Map<string, string>();
  for (const { id, known } of records) {
    if (known?.kind === "signed_on" && judged.get(id) === true) authors.set(id, known.body.person);
  }
  for (const { sign_on, person, proven } of copies) if (proven) authors.set(sign_on, person);
  return authors;
}

/** What is known of one sign-on of this tablet. */
export function proofOf(
  signOn: ReadRecord,
  judged: ReadonlyMap<string, boolean>,
  authors: ReadonlyMap<string, string>,
): Proof {
  if (authors.has(signOn.id)) return "proven";
  if (judged.has(signOn.id)) return "not_proven";
  return signOn.known?.kind === "signed_on" && signOn.known.body.sealed !== undefined ? "waiting" : "none";
}
