// SPDX-License-Identifier: Apache-2.0
// The beginning of a file as a file of its own: what stands behind it stays where it is, whatever is written or cut
// here. What is cut is overwritten with zeros, which no line of text has.
import type { StoreFile } from "./file.js";

export class Section implements StoreFile {
  #end: number;

  constructor(
    private readonly file: StoreFile,
    private readonly length: number,
  ) {
    const bytes = file.read(0, Math.min(file.size(), length));
    this.#end = bytes.length;
    while (this.#end > 0 && bytes[this.#end - 1] === 0) this.#end -= 1;
  }

  size(): number {
    return this.#end;
  }

  read(at: number, length: number): Uint8Array {
    return this.file.read(at, Math.max(0, Math.min(length, this.#end - at)));
  }

  /** Nothing is taken of what would not fit: to whoever writes, the store is full. */
  write(at: number, bytes: Uint8Array<ArrayBuffer>): number {
    if (at + bytes.length > this.length) return 0;
    const taken = this.file.write(at, bytes);
    this.#end = Math.max(this.#end, at + taken);
    return taken;
  }

  flush(): void {
    this.file.flush();
  }

  truncate(size: number): void {
    if (this.file.size() <= this.length) this.file.truncate(size);
    else this.file.write(size, new Uint8Array(Math.max(0, this.#end - size)));
    this.#end = size;
  }

  listed(): Promise<number | undefined> {
    return this.file.listed();
  }
}
