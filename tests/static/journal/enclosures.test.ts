// SPDX-License-Identifier: Apache-2.0
import { beforeAll, describe, expect, it } from "vitest";
import { Enclosures } from "../../../static/src/journal/enclosures.js";
import { Store } from "../../../static/src/journal/store.js";
import { hashOfBytes } from "../../../static/src/records/hash.js";
import { decode } from "../../../static/src/records/read.js";
import { MemoryFile } from "./memory_file.js";

const PIN = "harbour-71";
const KEY = "0123456789abcdef";
const DEVICE = `${"b".repeat(26)}:2`;
const WRITER = { device: DEVICE, site: undefined };
const STAMP = { made_at: 1, offset_min: 0, time_zone: "UTC", skew_ms: undefined, sign_on: undefined };
const SIGN = { kind: "signed_on", v: 1, body: { person: DEVICE } } as const;
const ALGORITHM = { name: "RSA-OAEP", hash: "SHA-256", modulusLength: 3072 };

let keys: CryptoKeyPair;
let publicKey = "";

beforeAll(async () => {
  const publicExponent = Uint8Array.of(1, 0, 1);
  keys = await crypto.subtle.generateKey({ ...ALGORITHM, publicExponent }, true, ["encrypt", "decrypt"]);
  const der = new Uint8Array(await crypto.subtle.exportKey("spki", keys.publicKey));
  publicKey = btoa(String.fromCharCode(...der));
});

function newFiles() {
  return {
    "journal-a": new MemoryFile(),
    "journal-b": new MemoryFile(),
    fetched: new MemoryFile(),
    files: new MemoryFile(),
  };
}

async function openedIn(files: ReturnType<typeof newFiles>): Promise<Store> {
  const store = await Store.open(files, (length) => new Uint8Array(length).fill(3));
  await store.append({ kind: "chain_opened", v: 1, body: { why: "first" } }, WRITER, STAMP);
  return store;
}

function secret() {
  return { key: { name: KEY, public_key: publicKey }, pin: PIN };
}

function bytesOf(sealed: string | undefined): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(sealed ?? ""), (letter) => letter.charCodeAt(0));
}

function opens(sealed: string | undefined, label: string): Promise<string> {
  const algorithm = { name: "RSA-OAEP", label: new TextEncoder().encode(label) };
  return crypto.subtle
    .decrypt(algorithm, keys.privateKey, bytesOf(sealed))
    .then((plain) => new TextDecoder().decode(plain));
}

function textOf(file: MemoryFile): string {
  return new TextDecoder().decode(file.read(0, file.size()));
}

describe("a sign-on with a PIN", () => {
  it("is sealed for its own record alone, which names the key and the hash of what was sealed", async () => {
    const answer = await (await openedIn(newFiles())).append(SIGN, WRITER, STAMP, secret());
    const record = decode(answer.line ?? "");
    expect(await opens(answer.sealed, record.id)).toBe(PIN);
    await expect(opens(answer.sealed, `${record.chain}:${record.n + 1}`)).rejects.toThrow();
    expect(record.known?.body).toEqual({
      person: DEVICE,
      sealing_key: KEY,
      sealed: hashOfBytes(bytesOf(answer.sealed)),
    });
    expect(answer.sealed).toMatch(/^[A-Za-z0-9+/]{512}$/);
  });

  it("leaves neither its PIN nor its sealed bytes in a journal line", async () => {
    const files = newFiles();
    const { sealed = "?" } = await (await openedIn(files)).append(SIGN, WRITER, STAMP, secret());
    expect(textOf(files["journal-a"])).not.toContain(sealed);
    for (const file of Object.values(files)) expect(textOf(file)).not.toContain(PIN);
    expect(textOf(files.files)).toContain(sealed);
  });

  it("has its sealed bytes again after a kill, until they are forgotten", async () => {
    const files = newFiles();
    const { sealed = "?", line } = await (await openedIn(files)).append(SIGN, WRITER, STAMP, secret());
    const killed = {
      "journal-a": files["journal-a"].afterKill(),
      "journal-b": files["journal-b"].afterKill(),
      fetched: files.fetched.afterKill(),
      files: files.files.afterKill(),
    };
    const again = await Store.open(killed, () => new Uint8Array(16));
    const { id } = decode(line ?? "");
    expect(again.opened()).toMatchObject({ enclosures: [{ record: id, sealed }] });
    again.forget([id]);
    expect(killed.files.afterKill().size()).toBe(0);
    expect((await Store.open(killed, () => new Uint8Array(16))).opened()).toMatchObject({ enclosures: [] });
  });

  it("is recorded without one where the key cannot be used", async () => {
    const broken = { key: { name: KEY, public_key: "AAAA" }, pin: PIN };
    const answer = await (await openedIn(newFiles())).append(SIGN, WRITER, STAMP, broken);
    expect(answer.why).toBeUndefined();
    expect(answer.sealed).toBeUndefined();
    expect(decode(answer.line ?? "").known?.body).toEqual({ person: DEVICE });
  });

  it("travels though the store takes nothing more", async () => {
    const files = newFiles();
    const store = await openedIn(files);
    files.files.faults.room = 100;
    const answer = await store.append(SIGN, WRITER, STAMP, secret());
    expect(answer.why).toBeUndefined();
    expect(store.opened()).toMatchObject({ enclosures: [{ sealed: answer.sealed }] });
  });
});

describe("the file of sealed PINs", () => {
  const one = { record: "a:1", sealed: "one".repeat(100) };
  const two = { record: "a:2", sealed: "two".repeat(90) };
  const three = { record: "a:3", sealed: "three".repeat(80) };

  function filled(): MemoryFile {
    const file = new MemoryFile();
    const enclosures = new Enclosures(file);
    for (const enclosure of [one, two, three]) enclosures.keep(enclosure);
    return file;
  }

  it("has nothing left of those that are forgotten, and all of the others", () => {
    const file = filled();
    new Enclosures(file).forget(["a:2"]);
    expect(textOf(file)).not.toContain("two");
    expect(new Enclosures(file.afterKill()).all).toEqual([one, three]);
  });

  it("keeps the others wherever forgetting is interrupted, and forgets when it is asked again", () => {
    const whole = filled();
    for (let room = 0; room < 2 * whole.size() + 800; room += 37) {
      const file = new MemoryFile(whole.read(0, whole.size()));
      const enclosures = new Enclosures(file);
      file.faults.room = room;
      enclosures.forget(["a:2"]);
      file.faults.room = Infinity;
      const again = new Enclosures(file);
      expect(
        again.all
          .filter(({ record }) => record !== "a:2")
          .map(({ record }) => record)
          .sort(),
      ).toEqual(["a:1", "a:3"]);
      again.forget(["a:2"]);
      expect(textOf(file)).not.toContain("two");
    }
  });

  it("holds one for a record: the last", () => {
    const file = filled();
    const other = { record: "a:2", sealed: "other" };
    new Enclosures(file).keep(other);
    expect(new Enclosures(file).all).toEqual([one, three, other]);
  });
});
