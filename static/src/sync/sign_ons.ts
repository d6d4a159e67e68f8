// SPDX-License-Identifier: Apache-2.0
// What the tablet knows of sign-ons, worked out again only when something of it changed.
import type { Copies } from "../folds/copies.js";
import { judgements, proofOf, provenAuthors, type Proof } from "../folds/sign_ons.js";
import type { ReadRecord } from "../records/kinds.js";

const NO_COPIES: readonly never[] = [];

export class SignOns {
  #records: readonly ReadRecord[] = [];
  #copies: Copies["signOns"];
  judged: ReadonlyMap<string, boolean> = new Map();
  authors: ReadonlyMap<string, string> = new Map();

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
