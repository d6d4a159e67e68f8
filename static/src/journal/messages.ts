// SPDX-License-Identifier: Apache-2.0
// What the page and the worker of the store say to each other.
import type { Stamp, Writer } from "../records/compose.js";
import type { Draft } from "../records/kinds.js";
import type { Copies, Entry } from "../folds/copies.js";
import type { Enclosure } from "./enclosures.js";
import type { KeptPhoto } from "./photos.js";
import type { Secret } from "./sealing.js";

/** The page asks; each question has a number, and the answer bears the same. */
export type Question =
  /** Make the four files, once, at enrolment, and open them; those that are there already stay as they are. */
  | { readonly ask: "make" }
  | {
      readonly ask: "append";
      readonly draft: Draft;
      readonly writer: Writer;
      readonly stamp: Stamp;
      readonly secret?: Secret;
    }
  /** Write the records that are in memory only. */
  | { readonly ask: "settle" }
  /** Wipe the sealed PINs of sign-ons that were judged. */
  | { readonly ask: "forget"; readonly records: readonly string[] }
  /** Let go of chains that were left behind, and of the chain in use up to a number. */
  | {
      readonly ask: "turn_over";
      readonly leaving: { readonly chains: readonly string[]; readonly upTo: number };
    }
  | { readonly ask: "keep"; readonly entry: Entry }
  | { readonly ask: "keep_photo"; readonly bytes: Uint8Array<ArrayBuffer> }
  | {
      readonly ask: "read_photo";
      readonly file: string;
      readonly offset: number;
      readonly length: number;
    }
  | { readonly ask: "drop_photo"; readonly file: string }
  /** Close the files so that another tab may have them; `take` asks for them again. */
  | { readonly ask: "let_go" }
  | { readonly ask: "take" };

/**
 * `line` is there whenever a record was made, stored or not: what is not stored is kept in memory. `why` says why
 * it is not safe in the journal, or why what was asked was not done; it is left out when all is well.
 */
export interface Answer {
  readonly line?: string;
  /** Base64 of the sealed PIN that travels beside the record. */
  readonly sealed?: string;
  /** The SHA-256 of a photo that was kept. */
  readonly file?: string;
  /** What was read of a photo. */
  readonly bytes?: Uint8Array;
  readonly why?: string;
}

export type Asked = Question & { readonly number: number };

/** What the worker says without being asked. */
export type Notice =
  | { readonly notice: "elsewhere" }
  | { readonly notice: "no_files" }
  | {
      readonly notice: "no_store";
      readonly why: "no_store" | "no_secure_context" | "private_window" | "failed";
    }
  | {
      readonly notice: "opened";
      readonly lines: readonly string[];
      readonly brokenAt: number | undefined;
      readonly copies: Copies;
      readonly enclosures: readonly Enclosure[];
      readonly photos: readonly KeptPhoto[];
    };

export type FromWorker = Notice | { readonly number: number; readonly answer: Answer };
