// SPDX-License-Identifier: Apache-2.0
// Killed, or with a full disk, at each step of turning over: a new process finds every line that was to stay.
import { describe, expect, it } from "vitest";
import { frame } from "../../../static/src/journal/frame.js";
import { Journal } from "../../../static/src/journal/journal.js";
import { Store } from "../../../static/src/journal/store.js";
import { MemoryFile } from "./memory_file.js";

const HEAD = { chain: "c".repeat(26), n: 9, hash: "ab" };
// A store reads the last line when it opens.
const LINES = ["one", "two", "three", "four", "five"].map((word) => JSON.stringify(word));
const KEPT = LINES.slice(2);

/** A file that ends its process at one of its calls, counted over all files that share `left`. */
class DyingFile extends MemoryFile {
  constructor(
    readonly left: { calls: number },
    bytes?: Uint8Array,
  ) {
    super(bytes);
  }
  #step(): void {
    this.left.calls -= 1;
    if (this.left.calls < 0) throw new Error("killed");
  }
  override write(at: number, bytes: Uint8Array<ArrayBuffer>): number {
    this.#step();
    return super.write(at, bytes);
  }
  override flush(): void {
    this.#step();
    super.flush();
  }
  override truncate(size: number): void {
    this.#step();
    super.truncate(size);
  }
  override listed(): Promise<number | undefined> {
    this.#step();
    return super.listed();
  }
}

async function begun(left: { calls: number }): Promise<{ a: DyingFile; b: DyingFile; journal: Journal }> {
  const a = new DyingFile(left);
  const b = new DyingFile(left);
  await Journal.begin(a, 1);
  const journal = Journal.open(a);
  for (const line of LINES) await journal.append(line);
  return { a, b, journal };
}

/** The journal a new process uses. */
function used(a: MemoryFile, b: MemoryFile): Journal {
  return Journal.open(Journal.generationOf(b) > Journal.generationOf(a) ? b : a);
}

describe("turning over", () => {
  it("loses nothing that was to stay, wherever it is killed and whatever reached the disk", async () => {
    const seen = new Set<number>();
    for (let calls = 0; calls < 12; calls += 1) {
      for (const more of [0, 7, 40, 90, 200, 1000]) {
        const left = { calls: Infinity };
        const { a, b, journal } = await begun(left);
        left.calls = calls;
        await journal.turnOver(b, KEPT, HEAD);
        left.calls = Infinity;
        const found = used(a.afterKill(more), b.afterKill(more));
        expect(found.brokenAt, `at ${calls} with ${more}`).toBeUndefined();
        expect([LINES, KEPT], `at ${calls} with ${more}`).toContainEqual([...found.lines]);
        seen.add(found.lines.length);
      }
    }
    expect([...seen].sort()).toEqual([KEPT.length, LINES.length]);
  });

  it("stays where it is when the other file takes only a part", async () => {
    for (let room = 0; room < 260; room += 1) {
      const { a, b, journal } = await begun({ calls: Infinity });
      b.faults.room = room;
      const next = await journal.turnOver(b, KEPT, HEAD);
      expect([...used(a.afterKill(), b.afterKill()).lines]).toEqual(next === undefined ? LINES : KEPT);
    }
  });

  it("stays where it is when the folder does not list the other file", async () => {
    const { a, b, journal } = await begun({ calls: Infinity });
    b.faults.isUnlinked = true;
    expect(await journal.turnOver(b, KEPT, HEAD)).toBeUndefined();
    expect(used(a.afterKill(), b.afterKill()).lines).toEqual(LINES);
  });

  it("does nothing while a line is in memory only", async () => {
    const { a, b, journal } = await begun({ calls: Infinity });
    a.faults.room = 0;
    await journal.append("six");
    expect(await journal.turnOver(b, KEPT, HEAD)).toBeUndefined();
    expect(b.size()).toBe(0);
  });

  it("does nothing in a journal that is broken in its middle", async () => {
    const { a, b } = await begun({ calls: Infinity });
    const at = frame(LINES[0] ?? "").length;
    const broken = a.withFlippedBit(8 * (a.size() - at - 40));
    expect(Journal.open(broken).brokenAt).toBeDefined();
    expect(await Journal.open(broken).turnOver(b, KEPT, HEAD)).toBeUndefined();
  });

  it("begins again over what an interrupted one left in the other file", async () => {
    const left = { calls: Infinity };
    const { a, b, journal } = await begun(left);
    left.calls = 3;
    await journal.turnOver(b, KEPT, HEAD);
    left.calls = Infinity;
    const next = await Journal.open(a).turnOver(b, KEPT, HEAD);
    expect(next?.lines).toEqual(KEPT);
    expect(used(a.afterKill(), b.afterKill()).chainHead).toEqual(HEAD);
  });

  it("is opened by a store in the other file", async () => {
    const { a, b, journal } = await begun({ calls: Infinity });
    await journal.turnOver(b, KEPT, HEAD);
    expect(await openedIn(a, b)).toMatchObject({ lines: KEPT, brokenAt: undefined });
  });

  it("hides no line when a bit of the head of either file flips, and says that it is broken", async () => {
    const { a, b, journal } = await begun({ calls: Infinity });
    const first = a.afterKill();
    await journal.turnOver(b, KEPT, HEAD);
    for (const [one, lines, place] of [
      [first, LINES, "a"],
      [b, KEPT, "b"],
    ] as const) {
      const headEnd = new TextDecoder().decode(one.read(0, one.size())).indexOf("\n") + 1;
      for (let bit = 0; bit < headEnd * 8; bit += 1) {
        const flipped = one.withFlippedBit(bit);
        const [inA, inB] = place === "a" ? [flipped, new MemoryFile()] : [a.afterKill(), flipped];
        const { lines: found, brokenAt } = await openedIn(inA, inB);
        expect([found, brokenAt], `bit ${bit} of ${place}`).toEqual([lines, 0]);
        expect(flipped.size()).toBe(one.size());
      }
    }
  });

  it("leaves nothing in the file it left that a later start could fall back to", async () => {
    const left = { calls: Infinity };
    const { a, b, journal } = await begun(left);
    left.calls = 6;
    await journal.turnOver(b, KEPT, HEAD);
    left.calls = Infinity;
    const [inA, inB] = [a.afterKill(), b.afterKill()];
    expect([Journal.generationOf(inA), Journal.generationOf(inB)]).toEqual([1, 2]);
    expect((await openedIn(inA, inB)).lines).toEqual(KEPT);
    await Journal.open(inB).append('"six"');
    const found = await openedIn(inA.afterKill(), inB.withFlippedBit(30 * 8));
    expect([found.lines, found.brokenAt]).toEqual([[...KEPT, '"six"'], 0]);
  });
});

/** What a store finds in two journals. */
async function openedIn(
  a: MemoryFile,
  b: MemoryFile,
): Promise<{ readonly lines: readonly string[]; readonly brokenAt: number | undefined }> {
  const files = { "journal-a": a, "journal-b": b, fetched: new MemoryFile(), files: new MemoryFile() };
  const opened = (await Store.open(files, (length) => new Uint8Array(length))).opened();
  if (opened.notice !== "opened") throw new Error("it is not open");
  return { lines: opened.lines, brokenAt: opened.brokenAt };
}
