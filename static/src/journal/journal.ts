// SPDX-License-Identifier: Apache-2.0
// The tablet's own records: lines that are only ever added. The first line is the head of the file.
import type { Head as ChainHead } from "../records/compose.js";
import { readAll, writeSafely, type NotKept, type StoreFile } from "./file.js";
import { frame, scan } from "./frame.js";

const FORMAT = 1;
/** More bytes than the head of a journal ever has. */
const LONGEST_HEAD = 512;

/** The first line of a journal. Of two journals the one with the higher generation is in use. */
interface Head {
  readonly journal: "tallywright";
  readonly format: number;
  readonly generation: number;
  /** Where the chain stood when lines were let go: it goes on there even when its last record left. */
  readonly chain_head?: ChainHead;
}

/** Answer to `append`. What is not stored is kept in memory and written again with the next record. */
export type Appended =
  { readonly stored: true } | { readonly stored: false; readonly why: NotKept | "journal_broken" };

export class Journal {
  readonly #lines: string[];
  #end: number;
  #waiting: Uint8Array<ArrayBuffer>[] = [];

  private constructor(
    private readonly file: StoreFile,
    lines: readonly string[],
    end: number,
    /** The place of a broken line with whole ones behind it: nothing was cut, and nothing is added. */
    readonly brokenAt: number | undefined,
    private readonly head: Head | undefined,
  ) {
    this.#lines = [...lines];
    this.#end = end;
  }

  /** Begin an empty file, or one whose head never became whole. */
  static async begin(file: StoreFile, generation: number): Promise<NotKept | undefined> {
    const head: Head = { journal: "tallywright", format: FORMAT, generation };
    return writeSafely(file, 0, frame(JSON.stringify(head)));
  }

  /** The generation of a file; 0 for one that was never begun. */
  static generationOf(file: StoreFile): number {
    const [first] = scan(file.read(0, Math.min(file.size(), LONGEST_HEAD))).texts;
    return first === undefined ? 0 : (headOf(first)?.generation ?? 0);
  }

  /** Open a file: a broken end is cut; a broken line with whole ones behind it is left as it is, and shown. */
  static open(file: StoreFile): Journal {
    const { texts, end, brokenAt } = scan(readAll(file));
    const [first, ...others] = texts;
    const head = first === undefined ? undefined : headOf(first);
    if (brokenAt !== undefined || (first !== undefined && head === undefined)) {
      return new Journal(file, head === undefined ? texts : others, end, brokenAt ?? 0, head);
    }
    if (end < file.size()) {
      file.truncate(end);
      file.flush();
    }
    return new Journal(file, others, end, undefined, head);
  }

  /** Every whole record line, those that wait in memory too. */
  get lines(): readonly string[] {
    return this.#lines;
  }

  /** Where the chain stood when lines were let go; undefined in a journal that let go of none. */
  get chainHead(): ChainHead | undefined {
    return this.head?.chain_head;
  }

  /**
   * Go over to the other file with some of the lines: they are written behind the place of a head and flushed, then
   * the head with the next generation, then the present file is emptied. Killed anywhere, one of the two is whole.
   *
   * returns  the journal in the other file; undefined when it could not be written, and this one stays in use
   */
  async turnOver(
    other: StoreFile,
    kept: readonly string[],
    chainHead: ChainHead,
  ): Promise<Journal | undefined> {
    if (this.brokenAt !== undefined || this.waiting > 0) return undefined;
    const generation = (this.head?.generation ?? 0) + 1;
    const head: Head = { journal: "tallywright", format: FORMAT, generation, chain_head: chainHead };
    const first = frame(JSON.stringify(head));
    try {
      other.truncate(0);
      other.flush();
      const behind = joined([new Uint8Array(first.length), ...kept.map(frame)]);
      if ((await writeSafely(other, 0, behind)) !== undefined) return undefined;
      if (other.write(0, first) !== first.length) return undefined;
      other.flush();
      if ((await other.listed()) !== behind.length) return undefined;
      const next = Journal.open(other);
      if (next.brokenAt !== undefined || next.lines.length !== kept.length) return undefined;
      this.file.truncate(0);
      this.file.flush();
      return next;
    } catch {
      return undefined;
    }
  }

  /** How many lines at the end are in memory only. */
  get waiting(): number {
    return this.#waiting.length;
  }

  /**
   * Add a line. It is stored when the file took it whole, flushed it, and the folder lists the file at its size.
   *
   * Calls must not overlap: whoever calls waits for the answer before.
   */
  async append(line: string): Promise<Appended> {
    if (this.brokenAt !== undefined) return { stored: false, why: "journal_broken" };
    this.#lines.push(line);
    this.#waiting.push(frame(line));
    return this.settle();
  }

  /** Write what waits in memory. */
  async settle(): Promise<Appended> {
    const bytes = joined(this.#waiting);
    const why = await writeSafely(this.file, this.#end, bytes);
    if (why !== undefined) return { stored: false, why };
    this.#end += bytes.length;
    this.#waiting = [];
    return { stored: true };
  }
}

function headOf(text: string): Head | undefined {
  if (!text.startsWith('{"journal":"tallywright"')) return undefined;
  return JSON.parse(text) as Head;
}

function joined(parts: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    whole.set(part, at);
    at += part.length;
  }
  return whole;
}
