// SPDX-License-Identifier: Apache-2.0
// The file of fetched copies. It may lose its end, never mix: a page and its cursor are one line of it.
import { after, NOTHING, type Copies, type Entry } from "../folds/copies.js";
import { readAll, writeSafely, type NotKept, type StoreFile } from "./file.js";
import { frame, scan } from "./frame.js";

const FORMAT = 1;
/** Below this much garbage a file is not written anew. */
const LEAST_GARBAGE = 256 * 1024;

export class Fetched {
  #copies: Copies;
  #end: number;
  /** The size of one line that says everything, when the file was last written anew or opened. */
  #whole: number;

  private constructor(
    private readonly file: StoreFile,
    copies: Copies,
    end: number,
    whole: number,
  ) {
    this.#copies = copies;
    this.#end = end;
    this.#whole = whole;
  }

  /**
   * Open a file, or begin an empty one. A broken line is left out, because all of it can be fetched again; but the
   * cursors of what stands behind it are past what it held, so that they go, unless a line there says everything.
   */
  static async open(file: StoreFile): Promise<Fetched> {
    const { texts, end, behindBroken } = scan(readAll(file));
    let copies = NOTHING;
    let hasHole = false;
    for (const [at, text] of texts.entries()) {
      const entry = JSON.parse(text) as Entry;
      hasHole = entry.entry !== "all" && (hasHole || behindBroken.has(at));
      copies = after(copies, entry);
    }
    if (hasHole) copies = after(copies, { entry: "rolled_back" });
    const fetched = new Fetched(file, copies, file.size(), 0);
    if (end < file.size() || texts.length === 0) await fetched.writeAnew();
    fetched.#whole = frameOfAll(fetched.#copies).length;
    return fetched;
  }

  get copies(): Copies {
    return this.#copies;
  }

  /** Keep an entry; undefined when it is safe. Calls must not overlap. */
  async keep(entry: Entry): Promise<NotKept | undefined> {
    const bytes = frame(JSON.stringify(entry));
    const why = await writeSafely(this.file, this.#end, bytes);
    if (why !== undefined) return why;
    this.#end += bytes.length;
    this.#copies = after(this.#copies, entry);
    if (this.#end > 2 * this.#whole + LEAST_GARBAGE) await this.#shrink();
    return undefined;
  }

  /** Write the file anew if what it says in one line is less than half of it. */
  async #shrink(): Promise<void> {
    this.#whole = frameOfAll(this.#copies).length;
    if (this.#end > 2 * this.#whole) await this.writeAnew();
  }

  /**
   * Write everything in one line behind the rest, then the same line at the beginning, then cut. Whenever that
   * is interrupted, one whole line that says everything is in the file.
   */
  async writeAnew(): Promise<void> {
    const bytes = frameOfAll(this.#copies);
    const behind = Math.max(this.#end, bytes.length);
    if ((await writeSafely(this.file, behind, bytes)) !== undefined) return;
    this.#end = behind + bytes.length;
    if (this.file.write(0, bytes) !== bytes.length) return;
    this.file.flush();
    this.file.truncate(bytes.length);
    this.file.flush();
    this.#end = bytes.length;
    this.#whole = bytes.length;
  }
}

function frameOfAll(copies: Copies): Uint8Array<ArrayBuffer> {
  const lines = [...new Set(copies.lines)];
  return frame(
    JSON.stringify({ entry: "all", format: FORMAT, copies: { ...copies, lines } } satisfies Entry),
  );
}
