// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { checksum, frame, scan } from "../../../static/src/journal/frame.js";
import { Journal } from "../../../static/src/journal/journal.js";
import { MemoryFile } from "./memory_file.js";

async function journalOf(...lines: string[]): Promise<{ file: MemoryFile; journal: Journal }> {
  const file = new MemoryFile();
  await Journal.begin(file, 1);
  const journal = Journal.open(file);
  for (const line of lines) await journal.append(line);
  return { file, journal };
}

describe("a line of a file", () => {
  it("has the checksum of the published vector", () => {
    // The check value of CRC-32 (ISO 3309, ITU-T V.42) over the digits 1 to 9.
    expect(checksum(new TextEncoder().encode("123456789"))).toBe(0xcbf43926);
  });

  it("is read back whatever text it holds", () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: "binary" })), (texts) => {
        const bytes = texts.flatMap((text) => Array.from(frame(text)));
        expect(scan(Uint8Array.from(bytes))).toEqual({
          texts,
          end: bytes.length,
          brokenAt: undefined,
          behindBroken: new Set(),
        });
      }),
    );
  });
});

describe("a journal", () => {
  it("does not call stored what was not taken whole, and keeps it", async () => {
    const { file, journal } = await journalOf("one");
    file.faults.room = 5;
    expect(await journal.append("two")).toEqual({
      stored: false,
      why: "short_write",
    });
    expect(journal.lines).toEqual(["one", "two"]);
    expect(Journal.open(file.afterKill(5)).lines).toEqual(["one"]);
  });

  it("hazard_A11 does not call stored what was not flushed", async () => {
    const { file, journal } = await journalOf("one");
    file.faults.flushFails = true;
    expect(await journal.append("two")).toEqual({
      stored: false,
      why: "write_failed",
    });
  });

  it("does not call stored what went into a deleted file", async () => {
    const { file, journal } = await journalOf("one");
    file.faults.isUnlinked = true;
    expect(await journal.append("two")).toEqual({
      stored: false,
      why: "file_gone",
    });
    expect(journal.lines).toEqual(["one", "two"]);
  });

  it("writes what waits with the next record, once there is room again", async () => {
    const { file, journal } = await journalOf("one");
    file.faults.room = 3;
    await journal.append("two");
    expect(journal.waiting).toBe(1);
    file.faults.room = Infinity;
    expect(await journal.append("three")).toEqual({ stored: true });
    expect(journal.waiting).toBe(0);
    expect(Journal.open(file.afterKill()).lines).toEqual(["one", "two", "three"]);
  });

  it("writes what waits when it is asked to, without a next record", async () => {
    const { file, journal } = await journalOf("one");
    file.faults.flushFails = true;
    await journal.append("two");
    expect(await journal.settle()).toEqual({ stored: false, why: "write_failed" });
    file.faults.flushFails = false;
    expect(await journal.settle()).toEqual({ stored: true });
    expect(Journal.open(file.afterKill()).lines).toEqual(["one", "two"]);
  });

  it("loses nothing that was called stored, whatever fails and whenever it is killed", async () => {
    const fault = fc.record({
      room: fc.oneof({ weight: 3, arbitrary: fc.constant(Infinity) }, fc.nat(60)),
      flushFails: fc.boolean(),
      kill: fc.option(fc.nat(80), { nil: undefined }),
    });
    await fc.assert(
      fc.asyncProperty(fc.array(fault, { maxLength: 20 }), async (faults) => {
        let { file, journal } = await journalOf();
        const stored: string[] = [];
        for (const [at, { room, flushFails, kill }] of faults.entries()) {
          Object.assign(file.faults, { room, flushFails });
          const answer = await journal.append(`line ${at}`);
          if (answer.stored) stored.splice(0, stored.length, ...journal.lines);
          if (kill === undefined) continue;
          file = file.afterKill(kill);
          journal = Journal.open(file);
          expect(journal.brokenAt).toBeUndefined();
          expect(journal.lines.slice(0, stored.length)).toEqual(stored);
        }
      }),
    );
  });

  it("with one flipped bit shows every other line, and says so unless it was at the end", async () => {
    const lines = ["one", "two", "three", "four"];
    const { file } = await journalOf(...lines);
    const headEnd = new TextDecoder().decode(file.read(0, file.size())).indexOf("\n") + 1;
    const lastStart = file.size() - frame("four").length;
    for (let bit = headEnd * 8; bit < file.size() * 8; bit += 1) {
      const broken = file.withFlippedBit(bit);
      const journal = Journal.open(broken);
      const missing = lines.filter((line) => !journal.lines.includes(line));
      expect(missing).toHaveLength(1);
      const isLast = bit >= lastStart * 8;
      expect(journal.brokenAt !== undefined).toBe(!isLast);
      if (!isLast) expect(broken.size()).toBe(file.size());
    }
  });

  it("whose head is broken is shown, and nothing is cut", async () => {
    const { file } = await journalOf("one", "two");
    const broken = file.withFlippedBit(30 * 8);
    const journal = Journal.open(broken);
    expect([journal.brokenAt, journal.lines]).toEqual([0, ["one", "two"]]);
    expect(broken.size()).toBe(file.size());
  });

  it("hazard_A10 is the same after its end was torn anywhere", async () => {
    const { file } = await journalOf("one", "two", "three");
    for (let length = 0; length < frame("three").length; length += 1) {
      const journal = Journal.open(file.withTornTail(length));
      expect(journal.lines).toEqual(length === 0 ? ["one", "two", "three"] : ["one", "two"]);
      expect(journal.brokenAt).toBeUndefined();
    }
  });
});
