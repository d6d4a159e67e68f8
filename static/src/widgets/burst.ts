// SPDX-License-Identifier: Apache-2.0
// A scanner types: characters faster than a hand, then Enter. Told apart from a person by the time between two keys.

/** No hand types so many characters with less than this between each two of them, and before the Enter. */
export const LONGEST_GAP_MS = 50;
const SHORTEST_TEXT = 3;

export class Burst {
  #text = "";
  #last = -Infinity;

  /** shortest   how many characters a burst has at least */
  constructor(private readonly shortest = SHORTEST_TEXT) {}

  /** A key went down at a time of a clock that never goes back; the text, where that ended a burst. */
  key(name: string, at: number): string | undefined {
    const isFast = at - this.#last <= LONGEST_GAP_MS;
    if (name === "Enter") {
      const text = isFast && this.#text.length >= this.shortest ? this.#text : undefined;
      this.#text = "";
      return text;
    }
    // Shift and its like go down between two characters, and are none.
    if (name.length !== 1) return undefined;
    this.#text = isFast ? this.#text + name : name;
    this.#last = at;
    return undefined;
  }

  /** True while a key at that time would belong to what is being typed by a scanner already. */
  isRunning(at: number): boolean {
    return this.#text !== "" && at - this.#last <= LONGEST_GAP_MS;
  }
}
