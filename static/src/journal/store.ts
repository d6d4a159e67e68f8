// SPDX-License-Identifier: Apache-2.0
// The store behind the worker's messages, on any folder of files: it gives n and previous, and asks the files.
import { CHAIN_NAME_BYTES, chainName } from "../records/chain_name.js";
import { compose, headAfter, type Head, type Stamp, type Writer } from "../records/compose.js";
import type { Draft, ReadRecord } from "../records/kinds.js";
import { recall } from "../records/read.js";
import { RefusedRecord } from "../records/refused.js";
import type { Entry } from "../folds/copies.js";
import { hashOfBytes } from "../records/hash.js";
import { Enclosures } from "./enclosures.js";
import { Fetched } from "./fetched.js";
import type { StoreFile } from "./file.js";
import { Journal } from "./journal.js";
import type { Answer, Notice } from "./messages.js";
import { PhotoFile } from "./photos.js";
import { seal, type Secret } from "./sealing.js";
import { Section } from "./section.js";

export interface StoreFiles {
  readonly "journal-a": StoreFile;
  readonly "journal-b": StoreFile;
  readonly fetched: StoreFile;
  readonly files: StoreFile;
}

/** The beginning of `files` belongs to the sealed PINs: some hundred of them, and the room to write them anew. */
const SEALED_BYTES = 256 * 1024;

/** What leaves the journal together. */
interface Leaving {
  readonly chains: readonly string[];
  readonly upTo: number;
}

export class Store {
  #head: Head | undefined;

  private constructor(
    private journal: Journal,
    /** The file the journal is not in. */
    private spare: StoreFile,
    private inUse: StoreFile,
    private readonly fetched: Fetched,
    private readonly enclosures: Enclosures,
    private readonly photos: PhotoFile,
    private readonly random: (length: number) => Uint8Array,
  ) {
    const last = journal.lines.at(-1);
    this.#head = last === undefined ? journal.chainHead : headAfter(recall(last));
  }

  /** Open the files; the journal in use is the one of the higher generation. */
  static async open(files: StoreFiles, random: (length: number) => Uint8Array): Promise<Store> {
    const [a, b] = [files["journal-a"], files["journal-b"]];
    const [ofA, ofB] = [Journal.generationOf(a), Journal.generationOf(b)];
    // Without a generation is what was never begun, and a journal whose head is broken: that one is shown.
    const isBegun = ofA + ofB > 0;
    const broken = isBegun ? undefined : [a, b].find((file) => Journal.open(file).brokenAt !== undefined);
    if (!isBegun && broken === undefined) await Journal.begin(a, 1);
    const inUse = broken ?? (ofB > ofA ? b : a);
    const spare = inUse === a ? b : a;
    const journal = Journal.open(inUse);
    if (journal.brokenAt === undefined && spare.size() > 0) {
      // A kill left it behind. Nothing may fall back to it once more was written into the one in use.
      spare.truncate(0);
      spare.flush();
    }
    return new Store(
      journal,
      spare,
      inUse,
      await Fetched.open(files.fetched),
      new Enclosures(new Section(files.files, SEALED_BYTES)),
      new PhotoFile(files.files, SEALED_BYTES),
      random,
    );
  }

  opened(): Notice {
    return {
      notice: "opened",
      lines: this.journal.lines,
      brokenAt: this.journal.brokenAt,
      copies: this.fetched.copies,
      enclosures: this.enclosures.all,
      photos: this.photos.all,
    };
  }

  /** Make the next record of the chain and store it. The head moves whenever a record was made. */
  async append(draft: Draft, writer: Writer, stamp: Stamp, secret?: Secret): Promise<Answer> {
    if (this.journal.brokenAt !== undefined) return { why: "journal_broken" };
    const opening = draft.kind === "chain_opened" ? this.#continued(draft) : undefined;
    const opens = opening !== undefined;
    if (!opens && this.#head === undefined) return { why: "chain_not_opened" };
    // A store begins a new chain when the key of the one before was lost, or the server knows it otherwise; the
    // lines of both stand in one file.
    const head = opens ? this.#newChain() : (this.#head ?? this.#newChain());
    const id = `${head.chain}:${head.n + 1}`;
    const bytes = secret === undefined ? undefined : await sealedFor(id, secret);
    let record: ReadRecord;
    try {
      record = compose(opening ?? sealedIn(draft, bytes, secret), head, writer, stamp);
    } catch (problem) {
      if (problem instanceof RefusedRecord) return { why: problem.code };
      throw problem;
    }
    const sealed = bytes === undefined ? undefined : base64(bytes);
    // The sealed PIN first: a sign-on that names one which is nowhere could never be proven.
    if (sealed !== undefined) this.enclosures.keep({ record: id, sealed });
    this.#head = headAfter(record);
    const answer = await this.journal.append(record.line);
    const made = sealed === undefined ? { line: record.line } : { line: record.line, sealed };
    return answer.stored ? made : { ...made, why: answer.why };
  }

  /**
   * Let records go by moving the rest into the other file.
   *
   * chains  those that were left behind, as a whole; never the chain in use
   * upTo    of the chain in use everything up to this number; the newest record stays
   */
  async turnOver({ chains, upTo }: Leaving): Promise<Answer> {
    const head = this.#head;
    if (head === undefined || chains.includes(head.chain) || upTo >= head.n) return { why: "chain_in_use" };
    const kept = this.journal.lines.filter((line) => {
      const { chain, n } = recall(line);
      return !chains.includes(chain) && (chain !== head.chain || n > upTo);
    });
    const next = await this.journal.turnOver(this.spare, kept, head);
    if (next === undefined) return { why: "not_turned_over" };
    this.journal = next;
    [this.inUse, this.spare] = [this.spare, this.inUse];
    return {};
  }

  forget(records: readonly string[]): void {
    this.enclosures.forget(records);
  }

  /** Keep a photo that a record will name; the answer has its name, or why it is not kept. */
  keepPhoto(bytes: Uint8Array<ArrayBuffer>): Promise<Answer> {
    return this.photos.keep(bytes);
  }

  readPhoto(file: string, offset: number, length: number): Answer {
    const bytes = this.photos.read(file, offset, length);
    return bytes === undefined ? { why: "no_photo" } : { bytes };
  }

  dropPhoto(file: string): void {
    this.photos.drop(file);
  }

  /** Write what could not be stored before. */
  async settle(): Promise<Answer> {
    const answer = await this.journal.settle();
    return answer.stored ? {} : { why: answer.why };
  }

  /** The opening of a new chain names the head of the one before. */
  #continued(draft: Draft & { kind: "chain_opened" }): Draft {
    const before = this.#head?.hash;
    return before === undefined ? draft : { ...draft, body: { ...draft.body, before } };
  }

  #newChain(): Head {
    return { chain: chainName(this.random(CHAIN_NAME_BYTES)), n: 0, hash: undefined };
  }

  async keep(entry: Entry): Promise<Answer> {
    const why = await this.fetched.keep(entry);
    return why === undefined ? {} : { why };
  }
}

/** Where a key cannot be used the sign-on goes without: nobody is locked out of recording. */
async function sealedFor(id: string, secret: Secret): Promise<Uint8Array | undefined> {
  try {
    return await seal(secret, id);
  } catch {
    return undefined;
  }
}

/** The sign-on names the key and the hash of what travels beside it. */
function sealedIn(draft: Draft, bytes: Uint8Array | undefined, secret: Secret | undefined): Draft {
  if (draft.kind !== "signed_on" || bytes === undefined || secret === undefined) return draft;
  return { ...draft, body: { ...draft.body, sealing_key: secret.key.name, sealed: hashOfBytes(bytes) } };
}

function base64(bytes: Uint8Array): string {
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}
