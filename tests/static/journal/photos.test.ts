// SPDX-License-Identifier: Apache-2.0
// Photos in one file: what was kept is found by a new process, what left makes room, and nothing of a kill or of a
// full store reaches another photo or a sealed PIN.
import { describe, expect, it, vi } from "vitest";
import { Enclosures } from "../../../static/src/journal/enclosures.js";
import { KEPT_FREE_BYTES, PhotoFile } from "../../../static/src/journal/photos.js";
import { Section } from "../../../static/src/journal/section.js";
import { hashOfBytes } from "../../../static/src/records/hash.js";
import { Chance } from "../records/chance.js";
import { MemoryFile } from "./memory_file.js";

const BEGIN = 4096;

function photo(seed: number, size = 900): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(new Chance(seed).bytes(size));
}

async function kept(file: MemoryFile, ...photos: Uint8Array<ArrayBuffer>[]): Promise<PhotoFile> {
  const opened = new PhotoFile(file, BEGIN);
  for (const one of photos) expect(await opened.keep(one)).toEqual({ file: hashOfBytes(one) });
  return opened;
}

function bytesOf(file: MemoryFile, one: Uint8Array): Uint8Array | undefined {
  return new PhotoFile(file, BEGIN).read(hashOfBytes(one), 0, one.length);
}

describe("the file of photos", () => {
  it("hazard_A15 gives a new process every photo that was kept, byte for byte, and any part of it", async () => {
    const file = new MemoryFile();
    await kept(file, photo(1), photo(2, 5000), photo(3, 1));
    const again = new PhotoFile(file.afterKill(), BEGIN);
    expect(again.all).toEqual(
      [1, 2, 3].map((seed, at) => ({
        file: hashOfBytes(photo(seed, [900, 5000, 1][at])),
        size: [900, 5000, 1][at],
      })),
    );
    expect(again.read(hashOfBytes(photo(2, 5000)), 4000, 5000)).toEqual(photo(2, 5000).slice(4000));
    expect(again.read("0".repeat(64), 0, 1)).toBeUndefined();
  });

  it("keeps the same photo once", async () => {
    const file = new MemoryFile();
    const opened = await kept(file, photo(1), photo(1));
    expect(opened.all).toHaveLength(1);
  });

  it("gives the room of a photo that left to the next one, and the end of the file back", async () => {
    const file = new MemoryFile();
    const opened = await kept(file, photo(1), photo(2), photo(3));
    const full = file.size();
    opened.drop(hashOfBytes(photo(2)));
    expect(file.size()).toBe(full);
    await opened.keep(photo(4, 800));
    expect(file.size()).toBe(full);
    expect(bytesOf(file, photo(4, 800))).toEqual(photo(4, 800));
    expect(bytesOf(file, photo(2))).toBeUndefined();
    for (const gone of [photo(3), photo(4, 800), photo(1)]) opened.drop(hashOfBytes(gone));
    expect(file.size()).toBe(BEGIN);
    expect(new PhotoFile(file, BEGIN).all).toEqual([]);
  });

  it("takes no photo that would leave records less room than they keep, and gives back what it asked for", async () => {
    const file = new MemoryFile();
    const opened = await kept(file, photo(1));
    const before = file.size();
    file.faults.room = KEPT_FREE_BYTES + photo(2).length;
    expect(await opened.keep(photo(2))).toEqual({ why: "no_room" });
    expect(file.size()).toBe(before);
    opened.drop(hashOfBytes(photo(1)));
    file.faults.room = KEPT_FREE_BYTES + 2 * photo(2).length;
    expect(await opened.keep(photo(2))).toEqual({ file: hashOfBytes(photo(2)) });
  });

  it("goes on behind the last photo where a kill left the file as long as it had asked for", async () => {
    const file = new MemoryFile();
    await kept(file, photo(1));
    file.truncate(file.size() + KEPT_FREE_BYTES);
    const again = new PhotoFile(file, BEGIN);
    expect(await again.keep(photo(2))).toEqual({ file: hashOfBytes(photo(2)) });
    expect(new PhotoFile(file, BEGIN).all).toHaveLength(2);
    expect(file.size()).toBeLessThan(KEPT_FREE_BYTES);
  });

  it("takes back what a full store took half of, so that a record has the room", async () => {
    const file = new MemoryFile();
    const opened = await kept(file, photo(1));
    const before = file.size();
    // Somebody else filled the store since it was asked.
    vi.spyOn(file, "write").mockImplementationOnce((at, bytes) => {
      file.faults.room = 300;
      return MemoryFile.prototype.write.call(file, at, bytes);
    });
    expect(await opened.keep(photo(2))).toEqual({ why: "short_write" });
    expect(file.size()).toBe(before);
    file.faults.room = Infinity;
    await opened.keep(photo(2));
    expect(bytesOf(file, photo(2))).toEqual(photo(2));
  });

  it("does not say kept of what the folder no longer lists", async () => {
    const file = new MemoryFile();
    file.faults.isUnlinked = true;
    expect(await new PhotoFile(file, BEGIN).keep(photo(1))).toEqual({ why: "file_gone" });
  });

  it("loses at most the photo that was being written, wherever a kill comes", async () => {
    for (let torn = 1; torn <= 900; torn += 37) {
      const file = new MemoryFile();
      await kept(file, photo(1), photo(2));
      const left = file.withTornTail(torn);
      const opened = new PhotoFile(left, BEGIN);
      expect(opened.read(hashOfBytes(photo(1)), 0, 900)).toEqual(photo(1));
      await opened.keep(photo(3));
      expect(bytesOf(left, photo(3))).toEqual(photo(3));
    }
  });

  it("finds the photos behind a head that a bit changed, and gives its room away", async () => {
    const file = new MemoryFile();
    await kept(file, photo(1), photo(2), photo(3));
    const broken = file.withFlippedBit((BEGIN + 30) * 8);
    const opened = new PhotoFile(broken, BEGIN);
    expect(opened.all.map((one) => one.file)).toEqual([photo(2), photo(3)].map(hashOfBytes));
    const size = broken.size();
    await opened.keep(photo(4));
    expect(broken.size()).toBe(size);
    for (const one of [photo(2), photo(3), photo(4)]) expect(bytesOf(broken, one)).toEqual(one);
  });

  it("stands beside sealed PINs: neither touches the other, and a wiped PIN is nowhere", async () => {
    const file = new MemoryFile();
    const sealed = "SEALED".repeat(60);
    const enclosures = new Enclosures(new Section(file, BEGIN));
    enclosures.keep({ record: "a:1", sealed });
    const opened = await kept(file, photo(1));
    enclosures.keep({ record: "a:2", sealed: "OTHER".repeat(60) });
    expect(new Enclosures(new Section(file, BEGIN)).all.map(({ record }) => record)).toEqual(["a:1", "a:2"]);
    enclosures.forget(["a:1"]);
    const text = new TextDecoder().decode(file.read(0, file.size()));
    expect(text).not.toContain("SEALED");
    expect(text).toContain("OTHER");
    expect(new Enclosures(new Section(file, BEGIN)).all.map(({ record }) => record)).toEqual(["a:2"]);
    expect(bytesOf(file, photo(1))).toEqual(photo(1));
    enclosures.forget(["a:2"]);
    opened.drop(hashOfBytes(photo(1)));
    expect(new Enclosures(new Section(file, BEGIN)).all).toEqual([]);
  });

  it("keeps a sealed PIN in memory where its room is full, and writes none of it over a photo", async () => {
    const file = new MemoryFile();
    await kept(file, photo(1));
    const enclosures = new Enclosures(new Section(file, BEGIN));
    for (let n = 1; n <= 12; n += 1) enclosures.keep({ record: `a:${n}`, sealed: "S".repeat(512) });
    expect(enclosures.all).toHaveLength(12);
    expect(bytesOf(file, photo(1))).toEqual(photo(1));
  });
});
