// SPDX-License-Identifier: Apache-2.0
// What a signature or a request had seen, and what it had not. The server's folds/seen.py is the same.
import type { Kind, ReadRecord } from "../records/kinds.js";

/** Kinds of the server's own, and the second name under a request: nothing that somebody saw or did. */
const NOT_OBSERVED: ReadonlySet<Kind> = new Set<Kind>([
  "works_opened",
  "device_enrolled",
  "device_revoked",
  "person_changed",
  "definition_published",
  "sign_on_judged",
  "request_granted",
  "request_declined",
  "request_seconded",
  "limit_crossed",
  "set_aside_admitted",
  "backup_verified",
  "restored",
]);

/** Observations that say nothing new of a piece: who has it in hand, who rests, a picture of what a mark says,
 * what became of scrap that was counted as scrap before. */
const SAYS_NOTHING_NEW: ReadonlySet<Kind> = new Set<Kind>([
  "look_signed",
  "handover_given",
  "handover_taken",
  "break_taken",
  "photo_attached",
  "scrap_destroyed",
]);

/** How far each chain was seen; where one is named twice, the less counts. */
export class Seen {
  readonly #upTo = new Map<string, number>();

  constructor(seen: readonly { readonly chain: string; readonly n: number }[]) {
    for (const { chain, n } of seen) this.#upTo.set(chain, Math.min(n, this.#upTo.get(chain) ?? n));
  }

  /** True for a record that was seen. One that was admitted later is not: it bears the admission's id. */
  covers(id: string): boolean {
    const [chain = "", n = ""] = id.split(":");
    return Number(n) <= (this.#upTo.get(chain) ?? 0);
  }
}

/** True for what somebody saw or did to pieces, and for what is not understood. */
export function counts({ known }: ReadRecord): boolean {
  if (known === undefined) return true;
  return !(
    NOT_OBSERVED.has(known.kind) ||
    SAYS_NOTHING_NEW.has(known.kind) ||
    known.kind.endsWith("_requested")
  );
}

/** True for a record that may change a look: what names none, or is not understood, may change every one. */
export function isOfLook({ known }: ReadRecord, look: string): boolean {
  if (known === undefined) return true;
  const named = "look" in known.body ? known.body.look : undefined;
  return named === look || (known.kind === "record_withdrawn" && named === undefined);
}
