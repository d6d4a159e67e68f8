// SPDX-License-Identifier: Apache-2.0
// What was asked about one subject, and what was answered. The server's folds/requests.py is the same function; the
// vectors of tests/vectors/holds hold both to the same answers.
import type { ReadRecord, RecordOf } from "../records/kinds.js";
import { authorOf, byId, pushTo, type Gathered } from "./gathered.js";

/** One request. `seconded_by`: proven persons, not the asker, who put their name to it. */
export interface Request {
  readonly id: string;
  readonly kind: string;
  readonly state: "open" | "granted" | "declined";
  readonly reasons: readonly string[];
  readonly seconded_by: readonly string[];
}

/** Fold the requests among all records of one subject; in the order of their ids. */
export function foldRequests({ known, proven }: Gathered): readonly Request[] {
  const said = new Map<string, ReadRecord[]>();
  const asked: ReadRecord[] = [];
  for (const record of known.values()) {
    // A kind that is not known here cannot be answered here either.
    const kind = record.known?.kind;
    if (kind?.endsWith("_requested") === true) asked.push(record);
    if (kind !== "request_granted" && kind !== "request_declined" && kind !== "request_seconded") continue;
    pushTo(said, (record.known as RecordOf<typeof kind>).body.request, record);
  }
  return asked.map((record) => requestOf(record, said.get(record.id) ?? [], proven));
}

function requestOf(
  asked: ReadRecord,
  said: readonly ReadRecord[],
  proven: ReadonlyMap<string, string>,
): Request {
  const asker = proven.get(authorOf(asked) ?? "");
  const reasons = new Set<string>();
  const seconded = new Set<string>();
  let granted = false;
  for (const record of said) {
    const { known } = record;
    if (known?.kind === "request_granted") {
      granted = true;
    } else if (known?.kind === "request_declined") {
      for (const reason of known.body.reasons) reasons.add(reason);
    } else {
      const person = proven.get(authorOf(record) ?? "");
      if (person !== undefined && person !== asker) seconded.add(person);
    }
  }
  return {
    id: asked.id,
    kind: asked.kind,
    // Granted once is granted, whatever was said before or after a restore.
    state: granted ? "granted" : reasons.size > 0 ? "declined" : "open",
    reasons: granted ? [] : [...reasons],
    seconded_by: [...seconded].sort(byId),
  };
}

/** What became of one request, for the screen that asked: the server's answer among all records held. */
export function answerTo(
  records: readonly ReadRecord[],
  request: string,
): { readonly state: Request["state"]; readonly reasons: readonly string[] } {
  const reasons: string[] = [];
  for (const { known } of records) {
    if (known?.kind === "request_granted" && known.body.request === request)
      return { state: "granted", reasons: [] };
    if (known?.kind === "request_declined" && known.body.request === request)
      reasons.push(...known.body.reasons);
  }
  return { state: reasons.length === 0 ? "open" : "declined", reasons };
}
