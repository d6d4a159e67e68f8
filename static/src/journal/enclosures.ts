// SPDX-License-Identifier: Apache-2.0
// The file `files`: sealed PINs on their way to being judged. They are no records, and are wiped from it as soon as
// they were judged; what cannot be written stays in memory and travels all the same.
import { readAll, type StoreFile } from "./file.js";
import { frame, scan } from "./frame.js";

/** A sealed PIN, in base64, beside the sign-on it was sealed for. */
export interface Enclosure {
  readonly record: string;
  readonly sealed: string;
}

export class Enclosures {
  #all: readonly Enclosure[];

  constructor(private readonly file: StoreFile) {
    const found = new Map<string, Enclosure>();
    const { texts, end } = scan(readAll(file));
    for (const text of texts) {
      const enclosure = JSON.parse(text) as Enclosure;
      found.delete(enclosure.record);
      found.set(enclosure.record, enclosure);
    }
    this.#all = [...found.values()];
    // What a kill left of an earlier state may be a part of one that was to be wiped.
    if (end < file.size() || texts.length > found.size) this.#writeAnew();
  }

  get all(): readonly Enclosure[] {
    return this.#all;
  }

  keep(enclosure: Enclosure): void {
    this.#all = [...this.#all.filter(({ record }) => record !== enclosure.record), enclosure];
    this.#write(this.file.size(), frame(JSON.stringify(enclosure)));
  }

  /** Wipe those of some records: nothing of their bytes stays in the file. */
  forget(records: readonly string[]): void {
    const gone = new Set(records);
    const left = this.#all.filter(({ record }) => !gone.has(record));
    if (left.length === this.#all.length) return;
    this.#all = left;
    this.#writeAnew();
  }

  /**
   * Write what is left behind the rest, then at the beginning with nothing behind it, then cut. Wherever that is
   * interrupted, all that is left is in the file once.
   */
  #writeAnew(): void {
    const frames = this.#all.map((enclosure) => frame(JSON.stringify(enclosure)));
    const length = frames.reduce((sum, one) => sum + one.length, 0);
    const behind = Math.max(this.file.size(), length);
    const whole = new Uint8Array(behind + length);
    let at = 0;
    for (const one of frames) {
      whole.set(one, at);
      at += one.length;
    }
    if (!this.#write(behind, whole.slice(0, length)) || !this.#write(0, whole.slice(0, behind))) return;
    this.file.truncate(length);
    this.file.flush();
  }

  #write(at: number, bytes: Uint8Array<ArrayBuffer>): boolean {
    try {
      if (this.file.write(at, bytes) !== bytes.length) return false;
      this.file.flush();
      return true;
    } catch {
      return false;
    }
  }
}
