// SPDX-License-Identifier: Apache-2.0
// A file of the store in memory, with the faults that real ones have.
import type { StoreFile } from "../../../static/src/journal/file.js";

export interface Faults {
  /** How many bytes the next writes take together before the store is full. */
  room: number;
  /** True while `flush` throws. */
  flushFails: boolean;
  /** True when somebody deleted the file under the open handle: all goes on working, only the folder lists it no more. */
  isUnlinked: boolean;
}

export class MemoryFile implements StoreFile {
  readonly faults: Faults = {
    room: Infinity,
    flushFails: false,
    isUnlinked: false,
  };
  #bytes: Uint8Array<ArrayBuffer>;
  /** What a new process would find: what was written up to the last flush. */
  #flushed: Uint8Array<ArrayBuffer>;

  constructor(bytes: Uint8Array = new Uint8Array()) {
    this.#bytes = Uint8Array.from(bytes);
    this.#flushed = Uint8Array.from(bytes);
  }

  size(): number {
    return this.#bytes.length;
  }

  read(at: number, length: number): Uint8Array {
    return this.#bytes.slice(at, at + length);
  }

  write(at: number, bytes: Uint8Array<ArrayBuffer>): number {
    const taken = Math.min(bytes.length, Math.max(0, this.faults.room));
    this.faults.room -= taken;
    const longer = new Uint8Array(Math.max(this.#bytes.length, at + taken));
    longer.set(this.#bytes);
    longer.set(bytes.subarray(0, taken), at);
    this.#bytes = longer;
    return taken;
  }

  flush(): void {
    if (this.faults.flushFails) throw new Error("The disk did not answer.");
    if (!this.faults.isUnlinked) this.#flushed = Uint8Array.from(this.#bytes);
  }

  truncate(size: number): void {
    if (size - this.#bytes.length > this.faults.room) throw new DOMException("Full.", "QuotaExceededError");
    const changed = new Uint8Array(size);
    changed.set(this.#bytes.subarray(0, size));
    this.#bytes = changed;
  }

  listed(): Promise<number | undefined> {
    return Promise.resolve(this.faults.isUnlinked ? undefined : this.#bytes.length);
  }

  /** The file as a new process finds it after this one was killed: at least what was flushed, perhaps a part of more. */
  afterKill(more = 0): MemoryFile {
    if (this.faults.isUnlinked) return new MemoryFile();
    return new MemoryFile(this.#bytes.subarray(0, Math.min(this.#bytes.length, this.#flushed.length + more)));
  }

  /** The file with one bit changed. */
  withFlippedBit(bit: number): MemoryFile {
    const bytes = Uint8Array.from(this.#bytes);
    const at = Math.floor(bit / 8);
    bytes[at] = (bytes[at] ?? 0) ^ (1 << (bit % 8));
    return new MemoryFile(bytes);
  }

  /** The file without its last bytes. */
  withTornTail(length: number): MemoryFile {
    return new MemoryFile(this.#bytes.subarray(0, Math.max(0, this.#bytes.length - length)));
  }
}
