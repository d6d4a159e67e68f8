// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import type { BatchList, Entry } from "../../../static/src/folds/copies.js";
import { Fetched } from "../../../static/src/journal/fetched.js";
import { MemoryFile } from "./memory_file.js";

function list(as_of: number): BatchList {
  const line = {
    number: "x".repeat(2000),
    part: "p",
    definition: "d",
    pieces: 1,
    opened_at: 1,
  };
  return { as_of, lines: [{ ...line, batch: `b${as_of}` }] };
}

const PAGE: Entry = {
  entry: "page",
  page: {
    epoch: "e",
    cursor: "3.x",
    more: false,
    pairs: [],
    lines: ["one", "two", "one"],
  },
};

describe("the file of fetched copies", () => {
  it("hazard_C7 does not move its cursor when a page could not be kept", async () => {
    const file = new MemoryFile();
    const fetched = await Fetched.open(file);
    file.faults.room = 10;
    expect(await fetched.keep(PAGE)).toBe("short_write");
    expect(fetched.copies.cursor).toBeUndefined();
    file.faults.room = Infinity;
    expect((await Fetched.open(file.afterKill(10))).copies.lines).toEqual([]);
  });

  it("hazard_C7 is whole wherever writing it anew is interrupted", async () => {
    const file = new MemoryFile();
    const fetched = await Fetched.open(file);
    await fetched.keep(PAGE);
    for (let as_of = 1; as_of <= 20; as_of += 1)
      await fetched.keep({ entry: "batches", batches: list(as_of) });
    const before = file.size();
    const whole = before + 40_000;
    for (let room = 0; room < whole; room += 997) {
      const interrupted = new MemoryFile(file.read(0, file.size()));
      const again = await Fetched.open(interrupted);
      interrupted.faults.room = room;
      await again.writeAnew();
      interrupted.faults.room = Infinity;
      const found = (await Fetched.open(interrupted)).copies;
      expect([found.cursor, found.batches?.as_of, new Set(found.lines).size]).toEqual(["3.x", 20, 2]);
    }
  });

  it("hazard_C7 forgets how far it got where a line in its middle broke, and keeps what it has until that came anew", async () => {
    const page = (n: number): Entry => ({
      entry: "page",
      page: { epoch: "e", cursor: `${n}.x`, more: false, pairs: ["b/first"], lines: [`line ${n}`] },
    });
    const file = new MemoryFile();
    const fetched = await Fetched.open(file);
    await fetched.keep({ entry: "taken_up", pair: "b/first" });
    const places: number[] = [];
    for (const n of [1, 2, 3]) {
      places.push(file.size());
      await fetched.keep(page(n));
    }
    const { copies } = await Fetched.open(file.withFlippedBit(((places[1] ?? 0) + 40) * 8));
    expect(copies.cursor).toBeUndefined();
    expect([copies.lines, copies.old]).toEqual([[], ["line 1", "line 3"]]);
    expect(copies.pairs).toEqual({ "b/first": { whole: true } });
    const last = await Fetched.open(file.withFlippedBit(((places[2] ?? 0) + 40) * 8));
    expect([last.copies.cursor, last.copies.lines]).toEqual(["2.x", ["line 1", "line 2"]]);
  });

  it("names each record once after it was written anew", async () => {
    const file = new MemoryFile();
    const fetched = await Fetched.open(file);
    await fetched.keep(PAGE);
    await fetched.writeAnew();
    expect((await Fetched.open(file)).copies.lines).toEqual(["one", "two"]);
  });
});
