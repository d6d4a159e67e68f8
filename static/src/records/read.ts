// SPDX-License-Identifier: Apache-2.0
// A line in, a record out: or the one reason why this line is none. The server's decode.py is the same check.
import { canonical } from "./canonical.js";
import { envelope as envelopeForm, formOf } from "./forms.js";
import { hashOf } from "./hash.js";
import type { KnownRecord, ReadRecord } from "./kinds.js";
import { RefusedRecord } from "./refused.js";
import { utf8Length } from "./utf8.js";

/** The most bytes a record may have; anything larger is a file named by its hash. */
export const LONGEST_RECORD = 16 * 1024;

interface Envelope {
  readonly chain: string;
  readonly n: number;
  readonly previous?: string;
  readonly kind: string;
  readonly v: number;
  readonly made_at: number;
  readonly sign_on?: string;
  readonly batch?: string;
  readonly body: unknown;
}

class Line implements ReadRecord {
  #hash: string | undefined;
  readonly id: string;
  readonly chain: string;
  readonly n: number;
  readonly kind: string;
  readonly v: number;
  readonly made_at: number;
  readonly sign_on: string | undefined;
  readonly batch: string | undefined;
  readonly known: KnownRecord | undefined;

  constructor(
    readonly line: string,
    envelope: Envelope,
  ) {
    this.id = `${envelope.chain}:${envelope.n}`;
    this.chain = envelope.chain;
    this.n = envelope.n;
    this.kind = envelope.kind;
    this.v = envelope.v;
    this.made_at = envelope.made_at;
    this.sign_on = envelope.sign_on;
    this.batch = envelope.batch;
    // The only place where a value from outside becomes a typed one: its form was checked before.
    this.known = formOf(envelope.kind, envelope.v) === undefined ? undefined : (envelope as KnownRecord);
  }

  /** Worked out when it is first asked for: a start reads thousands of lines and compares a few hashes. */
  get hash(): string {
    this.#hash ??= hashOf(this.line);
    return this.#hash;
  }
}

/**
 * Check a line in full and return its record.
 *
 * throws RefusedRecord: too-large, unreadable or not-canonical
 */
export function decode(line: string): ReadRecord {
  const bytes = utf8Length(line);
  if (bytes > LONGEST_RECORD) {
    throw new RefusedRecord("too-large", `The record is ${bytes} bytes long; ${LONGEST_RECORD} is the most.`);
  }
  const envelope = readEnvelope(line);
  if ((envelope.n === 1) === Object.hasOwn(envelope, "previous")) {
    throw unreadable("Only the first record of a chain has no previous.");
  }
  if (canonical(envelope) !== line) {
    throw new RefusedRecord(
      "not-canonical",
      "The record can be read, but its bytes are not the canonical form.",
    );
  }
  return new Line(line, envelope);
}

/**
 * The record of a line whose bytes were compared before, by the server for instance.
 *
 * throws RefusedRecord (unreadable)
 */
export function read(line: string): ReadRecord {
  return new Line(line, readEnvelope(line));
}

/** What a reading gives, or nothing: an envelope of a newer version is kept, and not guessed at. */
export function ifPossible(reading: () => ReadRecord): ReadRecord | undefined {
  try {
    return reading();
  } catch (problem) {
    if (problem instanceof RefusedRecord) return undefined;
    throw problem;
  }
}

/**
 * The record of a line that this store wrote itself, and whose checksum was found right: it was checked in full
 * when it was composed, and a start with thousands of them need not do it again.
 */
export function recall(line: string): ReadRecord {
  return new Line(line, JSON.parse(line) as Envelope);
}

function readEnvelope(line: string): Envelope {
  const value = parse(line);
  const wrong = envelopeForm(value);
  if (wrong !== undefined) throw unreadable(`The line is not a record: it ${wrong}.`);
  const envelope = value as Envelope;
  const form = formOf(envelope.kind, envelope.v);
  if (form === undefined) return envelope;
  const wrongBody = form.body(envelope.body);
  if (wrongBody !== undefined) throw unreadable(`The body of ${envelope.kind} ${wrongBody}.`);
  for (const member of form.needs) {
    if (!Object.hasOwn(envelope, member)) {
      throw unreadable(`A record of kind ${envelope.kind} needs the member '${member}'.`);
    }
  }
  return envelope;
}

function parse(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    throw unreadable("The line is not JSON.");
  }
}

function unreadable(sentence: string): RefusedRecord {
  return new RefusedRecord("unreadable", sentence);
}
