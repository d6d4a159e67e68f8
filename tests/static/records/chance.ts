// SPDX-License-Identifier: Apache-2.0
// Chance from a seed: the same seed gives the same records on every machine.

export class Chance {
  #state: number;

  constructor(seed: number) {
    this.#state = seed >>> 0;
  }

  /** The next number from 0 up to 1 (the mulberry32 generator). */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = this.#state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  }

  /** A whole number from `least` to `most`. */
  whole(least: number, most: number): number {
    return least + Math.floor(this.next() * (most - least + 1));
  }

  flip(): boolean {
    return this.next() < 0.5;
  }

  one<T>(...of: readonly [T, ...T[]]): T {
    return of[this.whole(0, of.length - 1)] ?? of[0];
  }

  some<T>(fewest: number, most: number, make: () => T): T[] {
    return Array.from({ length: this.whole(fewest, most) }, make);
  }

  bytes(length: number): Uint8Array {
    return Uint8Array.from({ length }, () => this.whole(0, 255));
  }
}
