// SPDX-License-Identifier: Apache-2.0
// The one worker that has the store's files. The file handles are the lock; a Web Lock is the queue for it, so
// that a second tab waits its turn and has the files as soon as the first lets go, closes or crashes.
import type { Answer, Asked, FromWorker } from "./messages.js";
import { areMade, closeFiles, openFiles, type OpenFiles } from "./opfs.js";
import { Store } from "./store.js";

const QUEUE = "tallywright-store";

let files: OpenFiles | undefined;
let store: Store | undefined;
let letGo: (() => void) | undefined;
let isWanted = false;

function say(message: FromWorker): void {
  postMessage(message);
}

function random(length: number): Uint8Array {
  return crypto.getRandomValues(new Uint8Array(length));
}

/** Wait for the files and open them; they are held until `release` or until the worker ends. */
async function take(): Promise<void> {
  if (isWanted) return;
  isWanted = true;
  const held = await navigator.locks.request(QUEUE, { ifAvailable: true }, holdIfGiven);
  if (held) return;
  say({ notice: "elsewhere" });
  await navigator.locks.request(QUEUE, hold);
}

async function holdIfGiven(lock: Lock | null): Promise<boolean> {
  if (lock === null) return false;
  await hold();
  return true;
}

async function hold(): Promise<void> {
  if (!isWanted) return;
  const released = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  try {
    await openStore(false);
  } catch (problem) {
    say({ notice: "no_store", why: reasonOf(problem) });
  }
  await released;
}

async function openStore(isEnrolling: boolean): Promise<void> {
  const folder = await navigator.storage.getDirectory();
  if (!isEnrolling && !(await areMade(folder))) {
    say({ notice: "no_files" });
    return;
  }
  files = await openFiles(folder);
  store = await Store.open(files, random);
  say(store.opened());
}

function release(): void {
  isWanted = false;
  if (files !== undefined) closeFiles(files);
  files = undefined;
  store = undefined;
  letGo?.();
  letGo = undefined;
}

function reasonOf(problem: unknown): "no_store" | "private_window" | "failed" {
  if (problem instanceof TypeError) return "no_store";
  return problem instanceof DOMException && problem.name === "SecurityError" ? "private_window" : "failed";
}

async function answer(asked: Asked): Promise<Answer> {
  switch (asked.ask) {
    case "make":
      if (store === undefined) await openStore(true);
      else say(store.opened());
      return {};
    case "append":
      return store === undefined
        ? { why: "not_open" }
        : store.append(asked.draft, asked.writer, asked.stamp, asked.secret);
    case "settle":
      return store === undefined ? { why: "not_open" } : store.settle();
    case "forget":
      store?.forget(asked.records);
      return {};
    case "turn_over":
      return store === undefined ? { why: "not_open" } : store.turnOver(asked.leaving);
    case "keep":
      return store === undefined ? { why: "not_open" } : store.keep(asked.entry);
    case "keep_photo":
      return store === undefined ? { why: "not_open" } : store.keepPhoto(asked.bytes);
    case "read_photo":
      return store === undefined
        ? { why: "not_open" }
        : store.readPhoto(asked.file, asked.offset, asked.length);
    case "drop_photo":
      store?.dropPhoto(asked.file);
      return {};
    case "let_go":
      release();
      return {};
    case "take":
      if (!isSecureContext) say({ notice: "no_store", why: "no_secure_context" });
      // Old browsers lack the lock or the file system; their types do not say so.
      else if (!("locks" in navigator) || !("getDirectory" in StorageManager.prototype)) {
        say({ notice: "no_store", why: "no_store" });
      } else void take();
      return {};
  }
}

// One question after another: the journal's calls must not overlap, and n is given in the order of the taps.
let before: Promise<void> = Promise.resolve();

addEventListener("message", (event: MessageEvent<Asked>) => {
  const asked = event.data;
  before = before.then(async () => {
    try {
      say({ number: asked.number, answer: await answer(asked) });
    } catch (problem) {
      say({ number: asked.number, answer: { why: problem instanceof Error ? problem.name : "failed" } });
    }
  });
});

if (!isSecureContext) say({ notice: "no_store", why: "no_secure_context" });
// Old browsers lack the lock or the file system; their types do not say so.
else if (!("locks" in navigator) || !("getDirectory" in StorageManager.prototype)) {
  say({ notice: "no_store", why: "no_store" });
} else void take();
