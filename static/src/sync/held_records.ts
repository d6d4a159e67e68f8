// SPDX-License-Identifier: Apache-2.0
// Which records the screens may fold: all own ones, all that is works-wide, and what belongs to a pair that is
// whole. A pair of which only a part came is not shown, because a part looks like a tally that is too small.
import type { Copies } from "../folds/copies.js";
import { unfold } from "../records/admitted.js";
import type { ReadRecord } from "../records/kinds.js";
import { ifPossible, read } from "../records/read.js";

/** A (batch, look) pair as one word. */
export function pairOf(batch: string, look: string): string {
  return `${batch}/${look}`;
}

export class HeldRecords {
  readonly #read = new Map<string, ReadRecord | undefined>();
  /** Lines that are admitted. */
  readonly #admitted = new Set<string>();
  #from: Copies | undefined;
  #fetched: readonly ReadRecord[] = [];
  #files: readonly string[] = [];
  #all: {
    readonly fetched: readonly ReadRecord[];
    readonly own: readonly ReadRecord[];
    readonly found: readonly ReadRecord[];
  } = { fetched: [], own: [], found: [] };

  /** Files that fetched records name, whether they are held or not; the same list as long as nothing changes. */
  get files(): readonly string[] {
    return this.#files;
  }

  /** Each record once: the fetched ones, then the tablet's own in the order of its chain. */
  all(copies: Copies, own: readonly ReadRecord[]): readonly ReadRecord[] {
    const fetched = this.fetched(copies);
    if (this.#all.fetched !== fetched || this.#all.own !== own) {
      // What was set aside of ours and admitted counts under its admission's id; under its own stands the copy's.
      const standing = own.filter((record) => !this.#admitted.has(record.line));
      const ids = new Set(standing.map((record) => record.id));
      const found = [...fetched.filter((record) => !ids.has(record.id)), ...standing];
      this.#all = { fetched, own, found };
    }
    return this.#all.found;
  }

  /** The fetched records that may be folded, each once; the same list as long as nothing changes. */
  fetched(copies: Copies): readonly ReadRecord[] {
    if (isSame(this.#from, copies)) return this.#fetched;
    this.#from = copies;
    const byId = new Map<string, ReadRecord>();
    this.#admitted.clear();
    for (const line of [...copies.old, ...copies.lines]) {
      const record = this.#recordOf(line);
      if (record === undefined || !isCarried(record, copies.pairs)) continue;
      byId.set(record.id, record);
      if (record.id !== `${record.chain}:${record.n}`) this.#admitted.add(lineWithin(record));
    }
    // Every answer brings a new cursor; only new records are news to a screen.
    const found = [...byId.values()];
    const isNews =
      found.length !== this.#fetched.length || found.some((one, at) => one !== this.#fetched[at]);
    if (isNews) {
      this.#fetched = found;
      this.#files = filesNamed(found);
    }
    return this.#fetched;
  }

  #recordOf(line: string): ReadRecord | undefined {
    if (!this.#read.has(line))
      this.#read.set(
        line,
        ifPossible(() => unfold(read(line))),
      );
    return this.#read.get(line);
  }
}

function lineWithin(admitted: ReadRecord): string {
  const { known } = read(admitted.line);
  return known?.kind === "set_aside_admitted" ? known.body.line : "";
}

function isSame(before: Copies | undefined, now: Copies): boolean {
  return before?.lines === now.lines && before.old === now.old && before.pairs === now.pairs;
}

/** True where all that a record belongs to is here: a pair of its batch, whole; always of what is works-wide. */
export function isCarried(record: ReadRecord, pairs: Copies["pairs"]): boolean {
  const batch = record.known?.kind === "batch_opened" ? record.id : record.batch;
  if (batch === undefined) return true;
  const look = lookOf(record);
  if (look !== "") return pairs[pairOf(batch, look)]?.whole ?? false;
  // What belongs to the batch but to no look came with whichever pair of it was taken up.
  return Object.entries(pairs).some(([pair, { whole }]) => whole && pair.startsWith(`${batch}/`));
}

function lookOf({ known, line }: ReadRecord): string {
  const body: unknown = known === undefined ? (JSON.parse(line) as { body: unknown }).body : known.body;
  const look = typeof body === "object" && body !== null && "look" in body ? body.look : "";
  return typeof look === "string" ? look : "";
}

function filesNamed(records: Iterable<ReadRecord>): readonly string[] {
  const named = new Set<string>();
  for (const { known } of records) {
    if (known?.kind === "definition_published" && known.body.content.subject === "file") {
      named.add(known.body.content.file);
    }
  }
  return [...named];
}
