// SPDX-License-Identifier: Apache-2.0
// The store behind the worker's messages, on any folder of files: it gives n and previous, and asks the files.
import { CHAIN_NAME_BYTES, chainName } from "../records/chain_name.js";
import { compose, headAfter, type Head, type Stamp, type Writer } from "../records/compose.js";
import type { Draft, ReadRecord } from "../records/kinds.js";
import { recall } from "../records/read.js";
import { RefusedRecord } from "../records/refused.js";
import type { Entry } from "../folds/copies.js";
import { Fetched } from "./fetched.js";
import type { StoreFile } from "./file.js";
import { Journal } from "./journal.js";
import type { Answer, Notice } from "./messages.js";

export interface StoreFiles {
  readonly "journal-a": StoreFile;
  readonly "journal-b": StoreFile;
  readonly fetched: StoreFile;
}

export class Store {
  #head: Head | undefined;

  private constructor(
    private readonly journal: Journal,
    private readonly fetched: Fetched,
    private readonly random: (length: number) => Uint8Array,
  ) {
    const last = journal.lines.at(-1);
    this.#head = last === undefined ? undefined : headAfter(recall(last));
  }

  /** Open the files; the journal in use is the one of the higher generation. */
  static async open(files: StoreFiles, random: (length: number) => Uint8Array): Promise<Store> {
    const [a, b] = [files["journal-a"], files["journal-b"]];
    const [ofA, ofB] = [Journal.generationOf(a), Journal.generationOf(b)];
    const isEmpty = ofA === 0 && ofB === 0 && Journal.open(a).brokenAt === undefined;
    if (isEmpty) await Journal.begin(a, 1);
    return new Store(Journal.open(ofB > ofA ? b : a), await Fetched.open(files.fetched), random);
  }

  opened(): Notice {
    return {
      notice: "opened",
      lines: this.journal.lines,
      brokenAt: this.journal.brokenAt,
      copies: this.fetched.copies,
    };
  }

  /** Make the next record of the chain and store it. The head moves whenever a record was made. */
  async append(draft: Draft, writer: Writer, stamp: Stamp): Promise<Answer> {
    if (this.journal.brokenAt !== undefined) return { why: "journal_broken" };
    const opening = draft.kind === "chain_opened" ? this.#continued(draft) : undefined;
    const opens = opening !== undefined;
    if (!opens && this.#head === undefined) return { why: "chain_not_opened" };
    // A store begins a new chain when the key of the one before was lost, or the server knows it otherwise; the
    // lines of both stand in one file.
    const head = opens ? this.#newChain() : (this.#head ?? this.#newChain());
    let record: ReadRecord;
    try {
      record = compose(opening ?? draft, head, writer, stamp);
    } catch (problem) {
      if (problem instanceof RefusedRecord) return { why: problem.code };
      throw problem;
    }
    this.#head = headAfter(record);
    const answer = await this.journal.append(record.line);
    return answer.stored ? { line: record.line } : { line: record.line, why: answer.why };
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
