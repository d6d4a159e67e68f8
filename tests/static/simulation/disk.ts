// SPDX-License-Identifier: Apache-2.0
// A tablet's disk: the four files of the store in memory, which a kill can meet at any call.
import { Journal } from "../../../static/src/journal/journal.js";
import type { StoreFiles } from "../../../static/src/journal/store.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { read } from "../../../static/src/records/read.js";
import { MemoryFile } from "../journal/memory_file.js";
import type { Chance } from "../records/chance.js";

const NAMES = ["journal-a", "journal-b", "fetched", "files"] as const;
type Name = (typeof NAMES)[number];
const END_OF_LINE = 10;
const TAIL_BYTES = 200;

/** How many more calls reach the files before the process is gone. */
interface Life {
  calls: number;
  /** The same from the next call on that empties a file. */
  callsBehindEmptying?: number;
  endsIn: "tablet_killed_within_a_call" | "tablet_killed_in_turn_over";
}

class DiskFile extends MemoryFile {
  /** Counts what can have changed what a new process finds. */
  changes = 0;

  constructor(
    private readonly life: Life,
    bytes?: Uint8Array,
  ) {
    super(bytes);
  }

  override write(at: number, bytes: Uint8Array<ArrayBuffer>): number {
    this.#live();
    return super.write(at, bytes);
  }

  override flush(): void {
    this.#live();
    super.flush();
    this.changes += 1;
  }

  override truncate(size: number): void {
    const { callsBehindEmptying } = this.life;
    if (callsBehindEmptying !== undefined) {
      this.life.calls = callsBehindEmptying;
      this.life.endsIn = "tablet_killed_in_turn_over";
      delete this.life.callsBehindEmptying;
    }
    this.#live();
    super.truncate(size);
    this.changes += 1;
  }

  bytesAfterKill(more = 0): Uint8Array {
    const left = this.afterKill(more);
    return left.read(0, left.size());
  }

  #live(): void {
    if (this.life.calls <= 0) throw new Error("The process is gone.");
    this.life.calls -= 1;
  }
}

export class Disk {
  readonly #life: Life = { calls: Infinity, endsIn: "tablet_killed_within_a_call" };
  readonly #files: Record<Name, DiskFile>;
  #found: { readonly changes: number; readonly ids: ReadonlyMap<string, string> } = {
    changes: -1,
    ids: new Map(),
  };

  constructor(
    bytes: Partial<Record<Name, Uint8Array>> = {},
    /** What was read from a line before: a journal is looked at after each step, and grows by a line or two. */
    private readonly readLines = new Map<string, ReadRecord>(),
  ) {
    const file = (name: Name): DiskFile => new DiskFile(this.#life, bytes[name]);
    this.#files = {
      "journal-a": file("journal-a"),
      "journal-b": file("journal-b"),
      fetched: file("fetched"),
      files: file("files"),
    };
  }

  get files(): StoreFiles {
    return this.#files;
  }

  /** The process ends at the call behind so many. */
  dieAfter(calls: number): void {
    this.#life.calls = calls;
    delete this.#life.callsBehindEmptying;
  }

  /** The same, counted from the next call that empties a file, as one does with which journals turn over. */
  dieBehindEmptying(calls: number): void {
    this.#life.callsBehindEmptying = calls;
  }

  get isDead(): boolean {
    return this.#life.calls <= 0;
  }

  /** In what the process ended; undefined while it lives. */
  get death(): Life["endsIn"] | undefined {
    return this.isDead ? this.#life.endsIn : undefined;
  }

  /** The disk as a new process finds it, perhaps with a part of what was not flushed. */
  afterKill(chance?: Chance): Disk {
    const left = (name: Name): Uint8Array => this.#files[name].bytesAfterKill(chance?.whole(0, 400));
    return new Disk(Object.fromEntries(NAMES.map((name) => [name, left(name)])), this.readLines);
  }

  /** So many bytes more can be written to the journals. */
  set room(bytes: number) {
    for (const name of ["journal-a", "journal-b"] as const) this.#files[name].faults.room = bytes;
  }

  /** Nothing more can be written anywhere. */
  set isFull(isFull: boolean) {
    for (const name of NAMES) this.#files[name].faults.room = isFull ? 0 : Infinity;
  }

  set flushFails(fails: boolean) {
    for (const name of ["journal-a", "journal-b"] as const) this.#files[name].faults.flushFails = fails;
  }

  /** Somebody clears the site's data under the open app. */
  unlink(): void {
    for (const name of NAMES) this.#files[name].faults.isUnlinked = true;
  }

  /** The disk with one bit of a file changed, the journal in use or another; unchanged where that is empty. */
  withFlippedBit(chance: Chance, name: Name = this.#inUse()): Disk {
    const file = this.#files[name];
    if (file.size() === 0) return this.afterKill(); // no death waits on it any more
    // Oftener than their length would have it in a journal's head and in the newest that was fetched: most hangs on it.
    const head = file.read(0, file.size()).indexOf(END_OF_LINE) + 1;
    const [from, to] =
      chance.flip() || head === 0
        ? [0, file.size()]
        : name === "fetched"
          ? [Math.max(0, file.size() - TAIL_BYTES), file.size()]
          : [0, head];
    const flipped = file.withFlippedBit(chance.whole(from * 8, to * 8 - 1));
    const left = (one: Name): Uint8Array =>
      one === name ? flipped.read(0, flipped.size()) : this.#files[one].bytesAfterKill();
    return new Disk(Object.fromEntries(NAMES.map((one) => [one, left(one)])), this.readLines);
  }

  /** Hashes by the ids of the records that a new process would find in the journal. */
  journal(): ReadonlyMap<string, string> {
    const changes = this.#files["journal-a"].changes + this.#files["journal-b"].changes;
    if (changes !== this.#found.changes) {
      const name = this.#inUse(true);
      const { lines } = Journal.open(new MemoryFile(this.#files[name].bytesAfterKill()));
      this.#found = {
        changes,
        ids: new Map(lines.map((line) => this.#read(line)).map(({ id, hash }) => [id, hash])),
      };
    }
    return this.#found.ids;
  }

  #read(line: string): ReadRecord {
    const record = this.readLines.get(line) ?? read(line);
    this.readLines.set(line, record);
    return record;
  }

  /** The journal of the higher generation; one whose head is broken has none, and is found all the same. */
  #inUse(isAfterKill = false): "journal-a" | "journal-b" {
    const left = (name: Name): MemoryFile => {
      const file = this.#files[name];
      return new MemoryFile(isAfterKill ? file.bytesAfterKill() : file.read(0, file.size()));
    };
    const [a, b] = [left("journal-a"), left("journal-b")];
    const [ofA, ofB] = [Journal.generationOf(a), Journal.generationOf(b)];
    if (ofA + ofB > 0) return ofB > ofA ? "journal-b" : "journal-a";
    const isBroken = (file: MemoryFile): boolean => Journal.open(file).brokenAt !== undefined;
    return !isBroken(a) && isBroken(b) ? "journal-b" : "journal-a";
  }
}
