// SPDX-License-Identifier: Apache-2.0
// The files that the tablet of each released version left behind are opened by this one, with all that is in them.
import { describe, expect, it } from "vitest";
import { Store } from "../../../static/src/journal/store.js";
import { hashOfBytes } from "../../../static/src/records/hash.js";
import { decode } from "../../../static/src/records/read.js";
import { Chance } from "../records/chance.js";
import { bytesOf, NAMES } from "./golden.js";
import { MemoryFile } from "./memory_file.js";

type Golden = Readonly<Record<string, string>>;

const golden = import.meta.glob<Golden>("../../golden/*.json", { eager: true, import: "default" });

async function kept(of: Golden, name: string): Promise<Uint8Array<ArrayBuffer>> {
  const unpacked = new Blob([bytesOf(of[name] ?? "")]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(unpacked).arrayBuffer());
}

async function linesOf(of: Golden, name: string): Promise<string[]> {
  return new TextDecoder()
    .decode(await kept(of, name))
    .split("\n")
    .slice(0, -1);
}

async function storeOf(of: Golden): Promise<Store> {
  const chance = new Chance(1);
  const files = await Promise.all(
    NAMES.map(async (name) => [name, new MemoryFile(await kept(of, `tablet/${name}`))] as const),
  );
  return Store.open(Object.fromEntries(files) as Record<(typeof NAMES)[number], MemoryFile>, (length) =>
    chance.bytes(length),
  );
}

it("there is a version to look back to", () => {
  expect(Object.keys(golden).length).toBeGreaterThan(0);
});

describe.each(Object.entries(golden))("the files a tablet wrote, in %s", (_, of) => {
  it("hold every record, byte for byte, and are whole", async () => {
    const opened = (await storeOf(of)).opened();
    const [, ...sent] = await linesOf(of, "push.ndjson");
    expect(opened).toMatchObject({ brokenAt: undefined });
    expect(opened).toHaveProperty("lines", sent);
    for (const line of sent) expect(decode(line).known).toBeDefined();
  });

  it("hold what was fetched, a sealed PIN and a photo", async () => {
    const store = await storeOf(of);
    const opened = store.opened();
    if (opened.notice !== "opened") throw new Error("not opened");
    const log = await linesOf(of, "server/log.ndjson");
    expect(opened.copies.lines.length).toBeGreaterThan(5);
    for (const line of opened.copies.lines) expect(log).toContain(line);
    expect(opened.copies.cursor).toMatch(/^\d+\./);
    expect(opened.enclosures).toHaveLength(1);
    const [photo] = opened.photos;
    if (photo === undefined) throw new Error("no photo");
    const { bytes = new Uint8Array() } = store.readPhoto(photo.file, 0, photo.size);
    expect(hashOfBytes(bytes)).toBe(photo.file);
  });

  it("are gone on in, behind the last record", async () => {
    const store = await storeOf(of);
    const sent = await linesOf(of, "push.ndjson");
    const last = decode(sent.at(-1) ?? "");
    const stamp = { made_at: 1, offset_min: 0, time_zone: "UTC", skew_ms: 0, sign_on: undefined };
    const draft = { kind: "signed_on", v: 1, body: { person: last.id } } as const;
    const { line = "" } = await store.append(draft, { device: last.id, site: undefined }, stamp);
    expect(decode(line)).toMatchObject({ n: sent.length, known: { previous: last.hash } });
  });

  it("and a record of every kind are the same bytes here", async () => {
    for (const line of await linesOf(of, "every_kind.ndjson")) {
      expect(decode(line)).toMatchObject({ line, known: expect.anything() as unknown });
    }
  });
});
