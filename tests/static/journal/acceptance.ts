// SPDX-License-Identifier: Apache-2.0
// What every store must do, whatever its files are: run on files in memory by vitest, and on the browser's own in
// Chromium by tests/acceptance. It knows no test library, so that a worker can run it too.
import { NOTHING } from "../../../static/src/folds/copies.js";
import type { StoreFile } from "../../../static/src/journal/file.js";
import { Journal } from "../../../static/src/journal/journal.js";
import { Store, type StoreFiles } from "../../../static/src/journal/store.js";
import { decode } from "../../../static/src/records/read.js";

const DEVICE = `${"b".repeat(26)}:2`;
const WRITER = { device: DEVICE, site: undefined };
const STAMP = {
  made_at: 1,
  offset_min: 0,
  time_zone: "UTC",
  skew_ms: undefined,
  sign_on: undefined,
};
const OPEN = { kind: "chain_opened", v: 1, body: { why: "first" } } as const;
const SIGN = { kind: "signed_on", v: 1, body: { person: DEVICE } } as const;

/** Fresh, empty files. */
export type MakeFiles = () => Promise<StoreFiles>;

function random(length: number): Uint8Array {
  return Uint8Array.from({ length }, (_, at) => at * 7);
}

function must(isTrue: boolean, what: string): void {
  if (!isTrue) throw new Error(what);
}

function linesOf(store: Store): readonly string[] {
  const opened = store.opened();
  return opened.notice === "opened" ? opened.lines : [];
}

async function filled(files: StoreFiles, records: number): Promise<Store> {
  const store = await Store.open(files, random);
  await store.append(OPEN, WRITER, STAMP);
  for (let n = 2; n <= records; n += 1) await store.append(SIGN, WRITER, { ...STAMP, made_at: n });
  return store;
}

/** A store with a chain that was left behind, and three records of the one that follows it. */
async function followed(
  files: StoreFiles,
): Promise<{ store: Store; former: string; rest: readonly string[] }> {
  const former = decode(linesOf(await filled(files, 4))[0] ?? "").chain;
  const store = await Store.open(files, () => new Uint8Array(16).fill(9));
  await store.append({ kind: "chain_opened", v: 1, body: { why: "key_lost" } }, WRITER, STAMP);
  for (let n = 2; n <= 3; n += 1) await store.append(SIGN, WRITER, { ...STAMP, made_at: n });
  return { store, former, rest: linesOf(store).slice(4) };
}

function all(file: StoreFile): string {
  return new TextDecoder().decode(file.read(0, file.size()));
}

/** The cases by the sentence they show. */
export const CASES: Readonly<Record<string, (make: MakeFiles) => Promise<void>>> = {
  "a new store has no record, and its journal has the first generation": async (make) => {
    const files = await make();
    const store = await Store.open(files, random);
    must(linesOf(store).length === 0, "there are records");
    must(Journal.generationOf(files["journal-a"]) === 1, "journal-a was not begun");
    must(Journal.generationOf(files["journal-b"]) === 0, "journal-b was begun");
  },

  "what was stored is found again, in order, byte for byte, each continuing the one before": async (make) => {
    const files = await make();
    const store = await filled(files, 40);
    const again = linesOf(await Store.open(files, random));
    must(again.length === 40, `${again.length} records instead of 40`);
    must(again.join("\n") === linesOf(store).join("\n"), "other bytes");
    again.forEach((line, at) => {
      const record = decode(line);
      must(record.n === at + 1, `n is ${record.n} at place ${at}`);
      const previous = at === 0 ? undefined : decode(again[at - 1] ?? "").hash;
      must(record.known?.previous === previous, `the link before ${record.n} is broken`);
    });
  },

  "the chain goes on after the files were opened again": async (make) => {
    const files = await make();
    await filled(files, 3);
    const again = await Store.open(files, random);
    const answer = await again.append(SIGN, WRITER, STAMP);
    must(answer.why === undefined && decode(answer.line ?? "").n === 4, "the fourth record is another");
  },

  "a record cannot come before its chain was opened": async (make) => {
    const store = await Store.open(await make(), random);
    const answer = await store.append(SIGN, WRITER, STAMP);
    must(answer.why === "chain_not_opened" && answer.line === undefined, "it was made");
  },

  "a draft that is no record is refused and takes no number": async (make) => {
    const store = await filled(await make(), 2);
    const answer = await store.append({ ...SIGN, body: { person: "Anna" } }, WRITER, STAMP);
    must(answer.why === "unreadable" && answer.line === undefined, "it was made");
    const next = await store.append(SIGN, WRITER, STAMP);
    must(decode(next.line ?? "").n === 3, "a number is missing");
  },

  "a new chain stands in the same file behind the one whose key was lost": async (make) => {
    const files = await make();
    const first = linesOf(await filled(files, 3));
    const store = await Store.open(files, () => new Uint8Array(16).fill(9));
    const before = decode(first[2] ?? "").hash;
    await store.append({ kind: "chain_opened", v: 1, body: { why: "key_lost", before } }, WRITER, STAMP);
    const lines = linesOf(await Store.open(files, random));
    const last = decode(lines[3] ?? "");
    must(lines.length === 4 && last.n === 1 && last.chain !== decode(first[0] ?? "").chain, "no new chain");
  },

  "a chain that was let go leaves the journal, and the one in use goes on in the other file": async (
    make,
  ) => {
    const files = await make();
    const { store, former, rest } = await followed(files);
    must((await store.turnOver({ chains: [former], upTo: 0 })).why === undefined, "it was not turned over");
    must(linesOf(store).join("\n") === rest.join("\n"), "other lines stay");
    await store.append(SIGN, WRITER, STAMP);
    const again = linesOf(await Store.open(files, random));
    must(
      again.length === rest.length + 1 && decode(again.at(-1) ?? "").n === rest.length + 1,
      "it does not go on",
    );
    must(files["journal-a"].size() === 0, "the first file was not emptied");
    must(Journal.generationOf(files["journal-b"]) === 2, "the other file has another generation");
  },

  "a journal turns over there and back": async (make) => {
    const files = await make();
    const { store, former } = await followed(files);
    await store.turnOver({ chains: [former], upTo: 0 });
    await store.turnOver({ chains: [], upTo: 0 });
    must(
      Journal.generationOf(files["journal-a"]) === 3 && files["journal-b"].size() === 0,
      "it did not come back",
    );
    must(linesOf(await Store.open(files, random)).length === 3, "a line is missing");
  },

  "the beginning of the chain in use leaves, and the chain goes on": async (make) => {
    const files = await make();
    const store = await filled(files, 4);
    const before = linesOf(store);
    must((await store.turnOver({ chains: [], upTo: 2 })).why === undefined, "it was not turned over");
    await store.append(SIGN, WRITER, STAMP);
    const lines = linesOf(await Store.open(files, random));
    must(lines.slice(0, 2).join("\n") === before.slice(2).join("\n"), "other lines stay");
    const last = decode(lines[2] ?? "");
    must(lines.length === 3 && last.n === 5, "it does not go on");
    must(last.known?.previous === decode(before[3] ?? "").hash, "the link is another");
  },

  "the chain in use is never let go as a whole": async (make) => {
    const files = await make();
    const store = await filled(files, 3);
    const { chain } = decode(linesOf(store)[0] ?? "");
    for (const leaving of [
      { chains: [chain], upTo: 0 },
      { chains: [], upTo: 3 },
    ]) {
      must((await store.turnOver(leaving)).why === "chain_in_use", "it was let go");
    }
    must(linesOf(await Store.open(files, random)).length === 3, "a line is missing");
  },

  "the chain goes on when the journal has no line of it any more": async (make) => {
    const files = await make();
    const lines = linesOf(await filled(files, 3));
    const last = decode(lines[2] ?? "");
    const head = { chain: last.chain, n: last.n, hash: last.hash };
    must(
      (await Journal.open(files["journal-a"]).turnOver(files["journal-b"], [], head)) !== undefined,
      "refused",
    );
    const next = decode((await (await Store.open(files, random)).append(SIGN, WRITER, STAMP)).line ?? "");
    must(next.n === 4 && next.known?.previous === last.hash, "n or previous is another");
  },

  "hazard_A10 a torn end is cut at every place, and every whole line before it stays": async (make) => {
    const whole = await make();
    await filled(whole, 4);
    const bytes = whole["journal-a"].read(0, whole["journal-a"].size());
    const text = all(whole["journal-a"]);
    for (let length = bytes.length - 1; length >= text.indexOf("\n") + 1; length -= 37) {
      const files = await make();
      files["journal-a"].write(0, bytes.slice(0, length));
      const lines = linesOf(await Store.open(files, random));
      const wholeLines = text.slice(0, length).split("\n").length - 2;
      must(lines.length === wholeLines, `${lines.length} lines instead of ${wholeLines} at ${length}`);
      must(all(files["journal-a"]).endsWith("\n"), "the end was not cut");
    }
  },

  "hazard_A12 a broken line with whole ones behind it is shown; nothing is cut and nothing added": async (
    make,
  ) => {
    const files = await make();
    await filled(files, 5);
    const journal = files["journal-a"];
    const before = all(journal);
    // The last letter before the third record's line feed.
    const at = before.split("\n").slice(0, 4).join("\n").length - 1;
    const letter = journal.read(at, 1);
    journal.write(
      at,
      Uint8Array.from(letter, (byte) => byte ^ 1),
    );
    const store = await Store.open(files, random);
    const opened = store.opened();
    must(opened.notice === "opened" && opened.brokenAt !== undefined, "it is not shown");
    must(linesOf(store).length === 4, "the whole lines on both sides are not all there");
    must(journal.size() === before.length, "something was cut");
    const answer = await store.append(SIGN, WRITER, STAMP);
    must(answer.why === "journal_broken" && journal.size() === before.length, "something was added");
  },

  "the journal of the higher generation is the one in use": async (make) => {
    const files = await make();
    await filled(files, 3);
    await Journal.begin(files["journal-b"], 2);
    must(linesOf(await Store.open(files, random)).length === 0, "journal-a was used");
  },

  "an entry of the fetched copies is found again": async (make) => {
    const files = await make();
    const store = await Store.open(files, random);
    const page = {
      epoch: "e",
      cursor: "7.x",
      more: false,
      pairs: ["b/first"],
      lines: ["one", "two"],
    };
    await store.keep({ entry: "taken_up", pair: "b/first" });
    must((await store.keep({ entry: "page", page })).why === undefined, "it was not kept");
    const opened = (await Store.open(files, random)).opened();
    const copies = opened.notice === "opened" ? opened.copies : NOTHING;
    must(copies.cursor === "7.x" && copies.lines.length === 2, "the page is not there");
    must(copies.pairs["b/first"]?.whole === true, "the pair is not whole");
  },

  "the fetched copies shrink when what was replaced outweighs the rest": async (make) => {
    const files = await make();
    const store = await Store.open(files, random);
    const lines = Array.from({ length: 40 }, (_, at) => ({
      batch: `b${at}`,
      number: "n".repeat(100),
      part: "p",
      definition: "d",
      pieces: 1,
      opened_at: at,
    }));
    let largest = 0;
    for (let as_of = 1; as_of <= 120; as_of += 1) {
      must((await store.keep({ entry: "batches", batches: { as_of, lines } })).why === undefined, "not kept");
      largest = Math.max(largest, files.fetched.size());
    }
    must(files.fetched.size() < largest, "the file only grew");
    const opened = (await Store.open(files, random)).opened();
    must(opened.notice === "opened" && opened.copies.batches?.as_of === 120, "the last list is gone");
  },

  "broken lines of the fetched copies are left out, and the rest is used": async (make) => {
    const files = await make();
    const store = await Store.open(files, random);
    await store.keep({ entry: "taken_up", pair: "b/first" });
    const end = files.fetched.size();
    await store.keep({ entry: "taken_up", pair: "b/second" });
    await store.keep({ entry: "taken_up", pair: "c/first" });
    files.fetched.write(end + 30, new TextEncoder().encode("??"));
    const opened = (await Store.open(files, random)).opened();
    const pairs = opened.notice === "opened" ? Object.keys(opened.copies.pairs) : [];
    must(pairs.join() === "b/first,c/first", `the pairs are ${pairs.join()}`);
  },
};
