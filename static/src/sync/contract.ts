// SPDX-License-Identifier: Apache-2.0
// What the screens see of the tablet: its state, its records, and the acts. sync/tablet.ts carries it out.
import type { Signal } from "@preact/signals";
import type { Asking } from "../api/requests.js";
import type { BatchLine } from "../folds/copies.js";
import type { Proof } from "../folds/sign_ons.js";
import type { Draft, ReadRecord } from "../records/kinds.js";

export type { Asking, BatchLine, Proof };

export type Phase =
  | { readonly phase: "starting" }
  // demo is undefined without contact; number is there while an administrator has to compare it and say yes
  | { readonly phase: "not_enrolled"; readonly demo: boolean | undefined; readonly number?: string }
  | { readonly phase: "open_elsewhere" } // another tab holds the files
  | {
      readonly phase: "cannot_record";
      readonly why: "no_store" | "no_secure_context" | "private_window" | "failed";
    }
  | { readonly phase: "journal_broken"; readonly at: number } // a broken line with whole ones behind it
  | { readonly phase: "ready" };

/**
 * The sync words of every screen. Counts are of this tablet's own records, those of chains left behind too: there
 * `confirmed` are those the server stored or set aside, and `exceptions` name what it set aside.
 */
export interface SyncState {
  readonly stored: number; // in the journal, not yet sent
  readonly sent: number; // sent, not covered by the server's mark
  readonly confirmed: number; // covered by the mark with our own hash
  readonly pictures: number; // photos that wait to be sent; no record is among them
  readonly oldestAt: number | undefined; // made_at of the oldest record that is not confirmed
  // cannot_write: the server answers, and cannot keep what waits until somebody mends it
  readonly contact: "none" | "server" | "cannot_write" | "session_ended" | "forked" | "behind";
  readonly certificateEndsAt: number | undefined; // last moment of the certificate the server showed last
  readonly heardAt: number | undefined; // device time of the last answer that was the server's
  readonly exceptions: readonly { readonly chain?: string; readonly n: number; readonly code: string }[];
}

/**
 * Answer to `add`: the record is in the journal, flushed, and the folder lists the file at its size.
 *
 * why   why it is not: short_write, write_failed, file_gone, journal_broken, not_open, no_answer, or the code of a
 *       draft that is no record
 * kept  the record was made all the same: it is in memory, among `records`, will be sent, and is written again with
 *       the next; entering it once more would count it twice
 */
export type Stored =
  | { readonly stored: true; readonly record: ReadRecord }
  | { readonly stored: false; readonly why: string; readonly kept?: boolean };

/** What a report says, or why it cannot be read: a code of the server's, `no-answer`, or `not-ours`. */
export type Read =
  { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly code: string };

/** What a photo is about. */
export interface About {
  readonly batch: string;
  readonly definition: string;
  readonly look: string;
  readonly tray: string;
  readonly piece: string;
}

/** The receipt whose certificate a file is, and what its maker took it for. */
export interface CertificateOf {
  readonly receipt: string;
  readonly type: "image/jpeg" | "application/pdf";
}

/** A photo that is still on this tablet: not sent, held by the server alone, or refused by it. */
export interface PhotoLine {
  readonly file: string;
  readonly state: "waiting" | "held" | "refused";
}

export interface Tablet {
  readonly state: Signal<Phase>;
  readonly sync: Signal<SyncState>;
  /** All whole records this tablet holds, own and fetched, each once; a new array at every change. */
  readonly records: Signal<readonly ReadRecord[]>;
  /** Texts of the files that records name, by the SHA-256 of their bytes. */
  readonly files: Signal<Readonly<Record<string, string>>>;
  readonly batches: Signal<{ readonly asOf: number; readonly lines: readonly BatchLine[] } | undefined>;
  /** The present sign-on's record id and person; undefined when nobody is signed on. */
  readonly signOn: Signal<{ readonly id: string; readonly person: string } | undefined>;
  /** Whether the browser promised to keep the store when its disk fills up; undefined until it answered. */
  readonly isKept: Signal<boolean | undefined>;
  /** Letters for piece tags, from this device's enrolment; empty until it was fetched. */
  readonly letters: Signal<string>;
  enrol(asking: Asking): Promise<{ ok: true } | { ok: false; code: string }>;
  /** What is known of the present sign-on; `waiting` until the server judged its PIN. */
  readonly proven: Signal<Proof>;
  /** The same of any sign-on of this tablet. */
  proofOf(signOn: string): Proof;
  /** Persons by the sign-ons that are proven to be theirs: what folds need to tell authors by. */
  readonly authors: Signal<ReadonlyMap<string, string>>;
  /**
   * Sign somebody on. The PIN is sealed at once, for this sign-on and the server alone, and kept nowhere.
   *
   * behind   what the PIN was given for: recorded directly behind the sign-on, and only if that was stored
   */
  signOnAs(person: string, pin?: string, behind?: Draft): Promise<Stored>;
  add(draft: Draft): Promise<Stored>;
  /** Server time [ms], as a record made at this moment would be placed: the device's own before any answer. */
  now(): number;
  /** Photos that are on this tablet, oldest first. */
  readonly photos: Signal<readonly PhotoLine[]>;
  /**
   * Keep a photo (a JPEG), or a certificate's file, and record what it is about. `why` is `no_room` where these have
   * to stop: records go on.
   */
  attach(bytes: Uint8Array<ArrayBuffer>, about: About | CertificateOf): Promise<Stored>;
  /** The bytes of a photo that is on this tablet. */
  photo(file: string): Promise<Blob | undefined>;
  /** Take up a (batch, look) pair; it is fetched whole. Own records of it are always there. */
  carry(batch: string, look: string): void;
  /** True when the pair was fetched whole at least once since it was taken up. */
  isWhole(batch: string, look: string): boolean;
  syncNow(): void;
  /** Every whole journal line, as a file the user can save. */
  exportJournal(): Promise<Blob>;
  /** One read of a report, as whoever is signed on. */
  read(path: string): Promise<Read>;
  /** The same with a body, for what is no record: codes, and words for PINs. */
  ask(path: string, body: object): Promise<Read>;
}
