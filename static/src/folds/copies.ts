// SPDX-License-Identifier: Apache-2.0
// What the file `fetched` says, entry by entry: copies of other stores' records and a few dated facts. All of it
// can be fetched again; none of it is the tablet's own work. Worker and page fold the same entries.

import { ifPossible, read } from "../records/read.js";

/** A (batch, look) pair as one word. */
export type Pair = string;

/** The server's key that PINs are sealed with: base64 of a DER SubjectPublicKeyInfo. */
export interface SealingKey {
  readonly name: string;
  readonly public_key: string;
}

/** Whose a sign-on is and whether that was proven, for the records of the pairs: a copy of the server's row. */
export interface SignOnCopy {
  readonly sign_on: string;
  readonly person: string;
  readonly proven: boolean;
}

/** The newest record of the server's own chain, signed by it: it shows later what the server once had. */
export interface SignedHead {
  readonly chain: string;
  readonly n: number;
  readonly hash: string;
  readonly signature: string;
}

/** A line of the server's own and its signature over it: a server that lost the line takes it back so. */
export interface SignedLine {
  readonly chain: string;
  readonly n: number;
  readonly line: string;
  readonly signature: string;
  /** The file the line names by its hash. */
  readonly file?: string;
}

/** One answer of a pull with its cursor: kept in one line, so that neither is ever there without the other. */
export interface Page {
  /** The chain that was in use when it was asked for: what the tablet held of it did not come. */
  readonly chain?: string;
  readonly epoch: string;
  readonly cursor: string;
  readonly more: boolean;
  /** The pairs that were asked for besides what is works-wide. */
  readonly pairs: readonly Pair[];
  readonly lines: readonly string[];
  /** The server's time of the answer. */
  readonly as_of?: number;
  /** Left out where it is what is known already. */
  readonly sealing?: SealingKey;
  readonly sign_ons?: readonly SignOnCopy[];
  readonly head?: SignedHead;
  /** The server's, of each of the lines that is its own, by the record's id; left out where there is none. */
  readonly signatures?: Readonly<Record<string, string>>;
  /** Last moment of the certificate the server shows; 0 where it knows of none. */
  readonly certificate_ends_at?: number;
}

/** A copy and the server's time at which it was taken. */
export interface Dated<T> {
  readonly as_of: number;
  readonly value: T;
}

export interface BatchLine {
  readonly batch: string;
  readonly number: string;
  readonly part: string;
  readonly definition: string;
  readonly pieces: number;
  readonly opened_at: number;
  /** Left out by an earlier version. */
  readonly released?: boolean;
}

/** How far the server had confirmed this tablet's chain when it was last heard, and what it set aside. */
export interface Confirmed {
  /** Left out by an earlier version. */
  readonly chain?: string;
  readonly n: number;
  readonly hash: string;
  readonly exceptions: readonly { readonly n: number; readonly code: string }[];
}

/** The same of a chain that was left behind: the server answered for all up to n, and for the stretches behind it. */
export interface Former {
  readonly n: number;
  readonly held: readonly { readonly first: number; readonly last: number }[];
  readonly epoch?: string | undefined;
  readonly exceptions: Confirmed["exceptions"];
}

export interface BatchList {
  readonly as_of: number;
  readonly lines: readonly BatchLine[];
}

export interface PairCopy {
  /** Left out until a page of the pair was kept, and after the server was rolled back. */
  readonly cursor?: string;
  /** True when all of the pair came at least once since it was taken up. */
  readonly whole: boolean;
}

export interface Copies {
  /** The chain that was in use for what was fetched; another one lacks what this one wrote. */
  readonly chain: string | undefined;
  readonly epoch: string | undefined;
  /** Where the works-wide records go on. */
  readonly cursor: string | undefined;
  readonly pairs: Readonly<Record<Pair, PairCopy>>;
  readonly lines: readonly string[];
  /** Copies from before a roll-back, which stand until the new ones are whole. */
  readonly old: readonly string[];
  /** The server's signatures of its own lines, by the records' ids. */
  readonly signatures: Readonly<Record<string, string>>;
  /** What the server said before it was put back to an older copy, and does not say any more. */
  readonly lost: readonly SignedLine[];
  readonly confirmed: Confirmed | undefined;
  /** By chain. */
  readonly former: Readonly<Record<string, Former>>;
  readonly batches: BatchList | undefined;
  readonly sealing: Dated<SealingKey> | undefined;
  readonly signOns: Dated<readonly SignOnCopy[]> | undefined;
  /** Shown to the server with every pull: one that no longer has it was rolled back. */
  readonly head: SignedHead | undefined;
  /** The last moment of the server's certificate, as it said itself; 0 where it knows of none. */
  readonly certificateEndsAt: number;
  /** Texts of the files that records name, by the SHA-256 of their bytes: what a name stands for never changes. */
  readonly files: Readonly<Record<string, string>>;
}

export type Entry =
  | { readonly entry: "page"; readonly page: Page }
  | { readonly entry: "rolled_back" }
  /** The server answered for lines that it had lost. */
  | { readonly entry: "given_back"; readonly lines: readonly string[] }
  | { readonly entry: "taken_up"; readonly pair: Pair }
  | { readonly entry: "confirmed"; readonly confirmed: Confirmed }
  | { readonly entry: "former"; readonly chain: string; readonly former: Former }
  | { readonly entry: "batches"; readonly batches: BatchList }
  | { readonly entry: "file"; readonly file: string; readonly text: string }
  | { readonly entry: "all"; readonly format: number; readonly copies: Copies };

/** A tablet carries what it works on; a pair that was left out is fetched whole when it is taken up again. */
export const MOST_PAIRS = 20;

export const NOTHING: Copies = {
  chain: undefined,
  epoch: undefined,
  cursor: undefined,
  pairs: {},
  lines: [],
  old: [],
  signatures: {},
  lost: [],
  confirmed: undefined,
  former: {},
  batches: undefined,
  sealing: undefined,
  signOns: undefined,
  head: undefined,
  certificateEndsAt: 0,
  files: {},
};

export function after(copies: Copies, entry: Entry): Copies {
  switch (entry.entry) {
    case "page":
      return withPage(copies, entry.page);
    case "rolled_back":
      return rolledBack(copies);
    case "given_back":
      return { ...copies, lost: copies.lost.filter(({ line }) => !entry.lines.includes(line)) };
    case "taken_up":
      return { ...copies, pairs: withTakenUp(copies.pairs, entry.pair) };
    case "confirmed":
      return { ...copies, confirmed: entry.confirmed };
    case "former":
      return { ...copies, former: { ...copies.former, [entry.chain]: entry.former } };
    case "batches":
      return { ...copies, batches: entry.batches };
    case "file":
      return { ...copies, files: { ...copies.files, [entry.file]: entry.text } };
    case "all":
      // A file of an earlier version says less.
      return { ...NOTHING, ...entry.copies };
  }
}

/** The pair last taken up stands last; the one not taken up for longest is no longer carried when there are too many. */
function withTakenUp(pairs: Copies["pairs"], pair: Pair): Copies["pairs"] {
  const others = Object.entries(pairs).filter(([name]) => name !== pair);
  const kept = others.slice(Math.max(0, others.length + 1 - MOST_PAIRS));
  return Object.fromEntries([...kept, [pair, pairs[pair] ?? { whole: false }]]);
}

function withPage(copies: Copies, page: Page): Copies {
  const pairs = { ...copies.pairs };
  for (const pair of page.pairs) {
    if (!(pair in pairs)) continue; // left out while the page was on its way
    // After a roll-back the old copy of a pair stands, and is still shown as whole, until the new one is.
    pairs[pair] = { cursor: page.cursor, whole: (pairs[pair]?.whole ?? false) || !page.more };
  }
  const dated = <T>(value: T): Dated<T> => ({ as_of: page.as_of ?? 0, value });
  const next: Copies = {
    ...copies,
    sealing: page.sealing === undefined ? copies.sealing : dated(page.sealing),
    signOns: page.sign_ons === undefined ? copies.signOns : dated(page.sign_ons),
    head: page.head ?? copies.head,
    certificateEndsAt: page.certificate_ends_at ?? copies.certificateEndsAt,
    chain: page.chain ?? copies.chain,
    epoch: page.epoch,
    cursor: page.cursor,
    pairs,
    lines: page.lines.length === 0 ? copies.lines : [...copies.lines, ...page.lines],
    signatures:
      page.signatures === undefined ? copies.signatures : { ...copies.signatures, ...page.signatures },
  };
  return page.more || copies.old.length === 0 ? next : { ...next, old: [], lost: lostIn(next) };
}

/**
 * What the server lost, once all it has is here: the lines of its own among the old copies that did not come again.
 * One of the chain it writes to shows it, as a head would, that its log was put back. A line this version cannot read
 * is not given back.
 */
function lostIn(copies: Copies): readonly SignedLine[] {
  const held = new Set([...copies.lines, ...copies.lost.map(({ line }) => line)]);
  const found = [...copies.lost];
  for (const line of copies.old) {
    if (held.has(line)) continue;
    const record = ifPossible(() => read(line));
    const signature = record === undefined ? undefined : copies.signatures[record.id];
    if (record === undefined || signature === undefined) continue;
    const { chain, n, known } = record;
    const content = known?.kind === "definition_published" ? known.body.content : undefined;
    const named = content?.subject === "file" ? { file: content.file } : {};
    found.push({ chain, n, line, signature, ...named });
  }
  return found;
}

/** A page without what is known already: it is asked for every few seconds, and the file should not grow by it. */
export function withoutKnown(page: Page, copies: Copies): Page {
  const { chain, sealing, sign_ons, head, signatures = {}, certificate_ends_at: ends, ...rest } = page;
  const isSame = (one: unknown, other: unknown): boolean => JSON.stringify(one) === JSON.stringify(other);
  return {
    ...rest,
    ...(chain === undefined || chain === copies.chain ? {} : { chain }),
    ...(sealing === undefined || isSame(sealing, copies.sealing?.value) ? {} : { sealing }),
    ...(sign_ons === undefined || isSame(sign_ons, copies.signOns?.value) ? {} : { sign_ons }),
    ...(head === undefined || isSame(head, copies.head) ? {} : { head }),
    ...(Object.keys(signatures).length === 0 ? {} : { signatures }),
    ...(ends === undefined || ends === copies.certificateEndsAt ? {} : { certificate_ends_at: ends }),
  };
}

function rolledBack(copies: Copies): Copies {
  const pairs = Object.entries(copies.pairs).map(([pair, { whole }]) => [pair, { whole }] as const);
  return {
    ...copies,
    cursor: undefined,
    pairs: Object.fromEntries(pairs),
    lines: [],
    old: [...new Set([...copies.old, ...copies.lines])],
  };
}
