// SPDX-License-Identifier: Apache-2.0
// What was asked about one subject, and what was answered. The server's folds/requests.py is the same function; the
// vectors of tests/vectors/holds hold both to the same answers.
import type { ReadRecord } from "../records/kinds.js";
import { authorOf, byId } from "./tally.js";

/** One request. `seconded_by`: proven persons, not the asker, who put their name to it. */
export interface Request {
  readonly id: string;
  readonly kind: string;
  readonly state: "open" | "granted" | "declined";
  readonly reasons: readonly string[];
  readonly seconded_by: readonly string[];
}

/** Fold the requests among all records of one subject, given in the order of their ids. */
export function foldRequests(
  inOrder: readonly ReadRecord[],
  proven: ReadonlyMap<string, string>,
): readonly Request[] {
  return inOrder.flatMap((record) => requestOf(record, inOrder, proven));
}

function requestOf(
  asked: ReadRecord,
  inOrder: readonly ReadRecord[],
  proven: ReadonlyMap<string, string>,
): Request[] {
  const kind = asked.known?.kind;
  // A kind that is not known here cannot be answered here either; a second name is no request of its own.
  if (kind === undefined || !kind.endsWith("_requested")) return [];
  const asker = proven.get(authorOf(asked) ?? "");
  const reasons = new Set<string>();
  const seconded = new Set<string>();
  let granted = false;
  for (const record of inOrder) {
    const { known } = record;
    if (known?.kind === "request_granted") {
      granted ||= known.body.request === asked.id;
    } else if (known?.kind === "request_declined" && known.body.request === asked.id) {
      for (const reason of known.body.reasons) reasons.add(reason);
    } else if (known?.kind === "request_seconded" && known.body.request === asked.id) {
      const person = proven.get(authorOf(record) ?? "");
      if (person !== undefined && person !== asker) seconded.add(person);
    }
  }
  return [
    {
      id: asked.id,
      kind,
      // Granted once is granted, whatever was said before or after a restore.
      state: granted ? "granted" : reasons.size > 0 ? "declined" : "open",
      reasons: granted ? [] : [...reasons],
      seconded_by: [...seconded].sort(byId),
    },
  ];
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
