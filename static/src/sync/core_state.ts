// SPDX-License-Identifier: Apache-2.0
// What the core of sync knows, and what goes in and out of it; core.ts says what it does.
import type { BatchList, Copies, Entry, Page, Pair, SignedLine } from "../folds/copies.js";
import { unsent, type Base, type Mark, type Own, type Sending, type Stretch } from "./outbox.js";

/**
 * Why a request brought nothing: nobody answered; somebody else did; it was too much; the session ended; the
 * server cannot just now; it cannot write until somebody mends it; it refused.
 */
export type Failure = "no_answer" | "not_ours" | "too_much" | "session" | "busy" | "cannot_write" | "refused";
/** Why a photo did not get on: besides what every request meets, what the server says of this file alone. */
export type PhotoFailure = Failure | "not_named" | "broken" | "file_refused";

/** A photo on this tablet. */
export interface Photo {
  readonly file: string;
  readonly size: number;
  /** How many of its bytes the server holds; undefined until it was asked. */
  readonly held: number | undefined;
  /** waiting: to be sent; held: the server has it, and no verified copy yet; refused: the server will not have it. */
  readonly state: "waiting" | "held" | "refused";
  /** Not before this moment. */
  readonly due: number;
  /** How often its bytes came as other ones. */
  readonly broken: number;
}

/** A request to send that is under way: about which chain, and what of it; nothing of it when only the mark is asked for. */
export interface UnderWay {
  readonly chain: string;
  readonly stretch: Stretch | undefined;
  /** True when sealed PINs travel along, so that there will be judgements to fetch. */
  readonly hasEnclosures?: boolean;
}

/** A sign-on with a sealed PIN beside it. */
export interface Enclosed {
  readonly chain: string;
  readonly n: number;
}

export interface CoreState {
  /** The chain in use. */
  readonly sending: Sending;
  /** Chains that were left behind, oldest first. */
  readonly former: readonly Sending[];
  /** True from the moment a new chain is wanted until it is opened. */
  readonly isTurning: boolean;
  /** Whether records are leaving the journal; what could not leave stays until the next start. */
  readonly turnOver: "no" | "under_way" | "failed";
  /** How many records of the chain in use have to be able to leave before any does. */
  readonly fewestLeaving: number;
  /** The epoch of the last mark: a page of another one says that the server was restored since. */
  readonly epoch: string | undefined;
  readonly copies: Copies;
  readonly underWay: UnderWay | undefined;
  /** Sign-ons whose sealed PIN was not judged yet, oldest first. */
  readonly enclosed: readonly Enclosed[];
  /** When a sealed PIN whose record is confirmed already is sent again. */
  readonly judging: Lane;
  /** True when the mark is to be asked for before anything is pushed. */
  readonly asksMark: boolean;
  /** A push that failed, until it is known whether the way refused it. */
  readonly failed: (UnderWay & { readonly stretch: Stretch }) | undefined;
  readonly send: Lane;
  readonly pull: Lane;
  readonly list: Lane;
  readonly files: Lane;
  /** Giving the server back what it wrote and lost. */
  readonly giving: Lane;
  /** Files that records name and this tablet does not hold, the next one to ask for first. */
  readonly wanted: readonly string[];
  /** Photos on this tablet, the next one to send first. */
  readonly photos: readonly Photo[];
  readonly photo: Lane;
  /** How many bytes of a photo travel at once. */
  readonly partBytes: number;
  /** What is being kept; the cursor moves when it is safe. */
  readonly keeping: Entry | undefined;
  readonly session: "live" | "renewing" | "ended";
  readonly isVisible: boolean;
  /** True when the last answer that was waited for came, and was the server's. */
  readonly isHeard: boolean;
  /** True from a refusal because the server cannot write, until it kept something again. */
  readonly cannotWrite: boolean;
  readonly isStarted: boolean;
}

/** One kind of request: whether it is under way, how often it failed in a row, when it is due. */
export interface Lane {
  readonly isUnderWay: boolean;
  readonly failures: number;
  readonly due: number;
}

/** A chain in the journal that is no longer in use. */
export interface FormerChain {
  readonly chain: string;
  readonly base: Base;
  readonly own: readonly Own[];
  /** False when the key that signs it is lost. */
  readonly isSendable: boolean;
}

/** What leaves the journal together. */
export interface Leaving {
  /** Chains that were left behind, as a whole. */
  readonly chains: readonly string[];
  /** Of the chain in use everything up to this number; 0 for nothing. */
  readonly upTo: number;
}

/** Where a chain that was left behind stands at the server, and how far a verified copy of its log holds it. */
export interface FormerMark {
  readonly chain: string;
  readonly n: number;
  readonly hash: string;
  readonly safe: number;
}

/** `now` is any steady clock [ms]; `chance` is from 0 up to 1. */
export type CoreEvent = { readonly now: number; readonly chance: number } & (
  | {
      readonly event: "started";
      readonly chain: string;
      readonly base: Base;
      readonly own: readonly Own[];
      readonly former: readonly FormerChain[];
      readonly copies: Copies;
      readonly enclosed: readonly Enclosed[];
      readonly photos?: readonly { readonly file: string; readonly size: number }[];
    }
  | { readonly event: "saved"; readonly own: Own; readonly isEnclosed?: boolean }
  /** Sealed PINs were judged; by the ids of their sign-ons. */
  | { readonly event: "judged"; readonly records: readonly string[] }
  /** A new chain was opened; `own` is its first record. */
  | { readonly event: "turned"; readonly chain: string; readonly own: Own }
  | { readonly event: "not_turned" }
  | { readonly event: "tick" }
  | { readonly event: "online" }
  | { readonly event: "visible"; readonly isVisible: boolean }
  | { readonly event: "taken_up"; readonly pair: Pair }
  /** `former` are the marks of chains that were left behind; of those in `lost` the server has less than it had. */
  | {
      readonly event: "marked";
      readonly mark: Mark;
      readonly former?: readonly FormerMark[];
      readonly lost?: readonly string[];
    }
  /** What was to leave the journal left it, or could not. */
  | { readonly event: "turned_over"; readonly left: Leaving | undefined }
  | { readonly event: "send_failed"; readonly why: Failure }
  /** `newest` is the largest number that the server holds of the chain the page was asked for with. */
  | { readonly event: "pulled"; readonly page: Page; readonly newest: number }
  | { readonly event: "cursor_void" }
  | { readonly event: "pull_failed"; readonly why: Failure }
  | { readonly event: "kept"; readonly isSafe: boolean }
  | { readonly event: "renewed" }
  | { readonly event: "not_renewed"; readonly why: Failure }
  | { readonly event: "listed"; readonly batches: BatchList }
  | { readonly event: "list_failed"; readonly why: Failure }
  /** The files that records of this tablet name, held or not. */
  | { readonly event: "files_named"; readonly files: readonly string[] }
  | { readonly event: "file_fetched"; readonly file: string; readonly text: string }
  | { readonly event: "file_failed"; readonly why: Failure }
  /** The server answered for lines of its own that it had lost. */
  | { readonly event: "given_back"; readonly lines: readonly SignedLine[] }
  | { readonly event: "not_given_back"; readonly why: Failure }
  /** A photo was kept, and the record that names it. */
  | { readonly event: "photo_kept"; readonly file: string; readonly size: number }
  | {
      readonly event: "photo_heard";
      readonly file: string;
      readonly held: number;
      readonly isWhole: boolean;
      readonly isSafe: boolean;
    }
  | { readonly event: "photo_failed"; readonly file: string; readonly why: PhotoFailure }
  | { readonly event: "room_needed" }
);

export type Effect =
  /** `enclosures` are the ids of sign-ons whose sealed PINs travel along. */
  | {
      readonly effect: "push";
      readonly chain: string;
      readonly first: number;
      readonly last: number;
      readonly enclosures: readonly string[];
    }
  | { readonly effect: "ask_mark"; readonly chain: string; readonly enclosures: readonly string[] }
  /** Wipe the sealed PINs of sign-ons. */
  | { readonly effect: "forget"; readonly records: readonly string[] }
  /** Let records leave the journal; a `turned_over` event must follow. */
  | { readonly effect: "turn_over"; readonly leaving: Leaving }
  /** A `turned` or `not_turned` event must follow. */
  | { readonly effect: "open_chain"; readonly why: "forked" | "behind" }
  | {
      readonly effect: "pull";
      /** The chain in use: what the tablet holds of it is not sent. By the time it is asked another may be. */
      readonly chain: string;
      readonly after: string | undefined;
      readonly carry: Copies["pairs"];
      readonly head: Copies["head"];
    }
  /** `isAwaited`: a `kept` event must follow; the others are facts that may be lost and learnt again. */
  | { readonly effect: "keep"; readonly entry: Entry; readonly isAwaited: boolean }
  | { readonly effect: "renew_session" }
  | { readonly effect: "list_batches" }
  | { readonly effect: "fetch_file"; readonly file: string }
  /** Lines of the server's own that it lost, and the texts of the files they name. */
  | {
      readonly effect: "give_back";
      readonly lines: readonly SignedLine[];
      readonly texts: readonly string[];
    }
  /** How far the server holds a photo. */
  | { readonly effect: "ask_photo"; readonly file: string }
  | {
      readonly effect: "send_photo";
      readonly file: string;
      readonly offset: number;
      readonly length: number;
    }
  | { readonly effect: "drop_photo"; readonly file: string };

export interface Step {
  readonly state: CoreState;
  readonly effects: readonly Effect[];
}

export const ASK_VISIBLE_MS = 5_000;
export const ASK_HIDDEN_MS = 60_000;
export const LIST_MS = 60_000;
const FIRST_PAUSE_MS = 1_000;
/** With the half that chance may add, somebody who is back in reach waits a minute at most. */
const LONGEST_PAUSE_MS = 40_000;

export const RESTING: Lane = { isUnderWay: false, failures: 0, due: 0 };

/** As many lines as go back to the server at once: with 16 KiB each they are less than a request may have. */
export const MOST_GIVEN_BACK = 50;
/** The journal is written anew for no fewer records of the chain in use. */
const FEWEST_LEAVING = 2_000;
/** Of a photo: well under what way stations let through, and not long in the way of a record. */
const FIRST_PART = 256 * 1024;

export function beginning(copies: Copies, fewestLeaving = FEWEST_LEAVING): CoreState {
  return {
    fewestLeaving,
    sending: unsent("", []),
    former: [],
    isTurning: false,
    turnOver: "no",
    epoch: undefined,
    copies,
    underWay: undefined,
    enclosed: [],
    judging: RESTING,
    asksMark: true,
    failed: undefined,
    send: RESTING,
    pull: RESTING,
    list: RESTING,
    files: RESTING,
    giving: RESTING,
    wanted: [],
    photos: [],
    photo: RESTING,
    partBytes: FIRST_PART,
    keeping: undefined,
    session: "live",
    isVisible: true,
    isHeard: false,
    cannotWrite: false,
    isStarted: false,
  };
}

export const ALL_LANES = ["send", "pull", "list", "files", "giving", "photo"] as const;

export function hurry(state: CoreState, now: number, ...lanes: (typeof ALL_LANES)[number][]): CoreState {
  let next = state;
  for (const name of lanes) next = { ...next, [name]: { ...next[name], due: Math.min(next[name].due, now) } };
  return next;
}

/** The pause after one more failure: twice as long each time, between half and one and a half of that by chance. */
export function pause(lane: Lane, { now, chance }: CoreEvent): Lane {
  const wait = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** lane.failures) * (0.5 + chance);
  return { isUnderWay: lane.isUnderWay, failures: lane.failures + 1, due: now + wait };
}
