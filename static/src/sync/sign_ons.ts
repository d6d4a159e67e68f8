// SPDX-License-Identifier: Apache-2.0
// What the tablet knows of sign-ons, worked out again only when something of it changed.
import type { Copies } from "../folds/copies.js";
import { judgements, proofOf, provenAuthors, type Proof } from "../folds/sign_ons.js";
import type { Enclosure } from "../journal/enclosures.js";
import type { ReadRecord } from "../records/kinds.js";
import { idOf } from "./core_send.js";
import type { Enclosed } from "./core_state.js";

const NO_COPIES: readonly never[] = [];

export class SignOns {
  #records: readonly ReadRecord[] = [];
  #copies: Copies["signOns"];
  judged: ReadonlyMap<string, boolean> = new Map();
  authors: ReadonlyMap<string, string> = new Map();
  /** Base64 of the sealed PINs that the server has not judged yet, by sign-on. */
  readonly sealed = new Map<string, string>();

  /** Take the sealed PINs the store kept; returns those whose sign-on was never made, because a kill came between. */
  takeSealed(kept: readonly Enclosure[], made: ReadonlySet<string>): readonly string[] {
    this.sealed.clear();
    for (const { record, sealed } of kept) if (made.has(record)) this.sealed.set(record, sealed);
    return kept.map(({ record }) => record).filter((record) => !made.has(record));
  }

  /** Of the sign-ons whose sealed PIN is kept those that were judged. */
  judgedOf(enclosed: readonly Enclosed[]): readonly string[] {
    return enclosed.map(idOf).filter((id) => this.proof(id) !== "waiting");
  }

  learn(records: readonly ReadRecord[], copies: Copies["signOns"]): void {
    if (records === this.#records && copies === this.#copies) return;
    this.#records = records;
    this.#copies = copies;
    this.judged = judgements(records);
    const authors = provenAuthors(records, copies?.value ?? NO_COPIES);
    // Screens fold again when the map is another one.
    if (JSON.stringify([...authors]) !== JSON.stringify([...this.authors])) this.authors = authors;
  }

  /** What is known of a sign-on of this tablet; `none` where nobody is signed on. */
  proof(id: string | undefined): Proof {
    const signOn = this.#records.find((record) => record.id === id);
    return signOn === undefined ? "none" : proofOf(signOn, this.judged, this.authors);
  }
}
