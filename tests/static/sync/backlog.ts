// SPDX-License-Identifier: Apache-2.0
// A tablet that comes back from a week without contact, against a real server: the real core, the real requests, the
// real file of photos; only the browser around them is not there.
import type { BatchesAnswer } from "../../../static/src/api/answers.js";
import type { Answer } from "../../../static/src/api/ask.js";
import { enrolDevice, listBatches } from "../../../static/src/api/requests.js";
import { NOTHING } from "../../../static/src/folds/copies.js";
import { PhotoFile } from "../../../static/src/journal/photos.js";
import { chainName } from "../../../static/src/records/chain_name.js";
import { compose, headAfter, type Head } from "../../../static/src/records/compose.js";
import type { Draft, ReadRecord } from "../../../static/src/records/kinds.js";
import { carryOut, type Asker, type Outcome } from "../../../static/src/sync/carry_out.js";
import { beginning, dueNext, step, type CoreEvent, type Effect } from "../../../static/src/sync/core.js";
import { renewSession } from "../../../static/src/sync/enrolment.js";
import type { Identity } from "../../../static/src/sync/identity.js";
import { OwnRecords } from "../../../static/src/sync/own_records.js";
import { ServerClock } from "../../../static/src/sync/server_clock.js";
import { makeKeys, publicText } from "../../../static/src/sync/signing.js";
import { MemoryFile } from "../journal/memory_file.js";

const LONGEST_WAIT_MS = 500;
const A_TRAY = 60;

/** What the run saw of itself. */
export interface Told {
  readonly chain: string;
  readonly records: number;
  readonly photos: number;
  /** How many records were confirmed when each part of a photo left. */
  readonly fewestConfirmed: number;
  readonly parts: number;
  readonly failures: number;
  /** From the start, with all of it in hand, until the server has it. */
  readonly milliseconds: number;
}

/** Fetch as a browser of one server does: its address before each path, and its cookies. */
function fetchFrom(address: string): void {
  const cookies = new Map<string, string>();
  const plain = globalThis.fetch;
  globalThis.fetch = async (path, options) => {
    const headers = new Headers(options?.headers);
    headers.set("cookie", [...cookies].map(([name, value]) => `${name}=${value}`).join("; "));
    const response = await plain(`${address}${path as string}`, { ...options, headers });
    for (const line of response.headers.getSetCookie()) {
      const [name = "", value = ""] = (line.split(";")[0] ?? "").split("=");
      cookies.set(name, value);
    }
    return response;
  };
}

async function until<T>(ask: () => Promise<T | undefined>): Promise<T> {
  for (;;) {
    const answer = await ask();
    if (answer !== undefined) return answer;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

function valueOf<T>(answer: Answer<T>): T | undefined {
  return answer.sort === "ours" ? answer.value : undefined;
}

async function enrolled(): Promise<Identity> {
  const keys = await makeKeys();
  const asking = { by: "demo", name: "bench 9" } as const;
  const key = await publicText(keys);
  const { device, letters, site } = await until(async () => valueOf(await enrolDevice(asking, key)));
  return { keys, device, letters, site };
}

/**
 * What was marked in the week, and the photos of some of it.
 *
 * aBatch   a batch is opened for so many marks, with a tray for each of them that is full; 0: all in the works' own
 */
function weekOf(
  identity: Identity,
  line: BatchesAnswer["batches"][number],
  marks: number,
  aBatch: number,
  photos: readonly { readonly file: string; readonly size: number }[],
): OwnRecords {
  const records: ReadRecord[] = [];
  let head: Head = { chain: chainName(crypto.getRandomValues(new Uint8Array(16))), n: 0, hash: undefined };
  const add = (draft: Draft): string => {
    const stamp = {
      made_at: Date.now(),
      offset_min: 60,
      time_zone: "Europe/Berlin",
      skew_ms: 0,
      sign_on: records[1]?.id,
    };
    const record = compose(draft, head, { device: identity.device, site: identity.site }, stamp);
    records.push(record);
    head = headAfter(record);
    return record.id;
  };
  add({ kind: "chain_opened", v: 1, body: { why: "first" } });
  add({ kind: "signed_on", v: 1, body: { person: `${"a".repeat(26)}:1` } });
  const { definition } = line;
  let batch = line.batch;
  const openTray = (number: number): string => {
    const body = { look: "first", number, places: A_TRAY };
    return add({ v: 1, batch, definition, kind: "tray_opened", body });
  };
  let tray = aBatch === 0 ? openTray(1) : "";
  for (let mark = 0; mark < marks; mark += 1) {
    if (aBatch > 0 && mark % aBatch === 0) {
      const body = { number: `WEEK-${String(mark)}`, pieces: aBatch };
      batch = add({ kind: "batch_opened", v: 1, definition, body });
    }
    if (aBatch > 0 && (mark % aBatch) % A_TRAY === 0) tray = openTray(1 + (mark % aBatch) / A_TRAY);
    const about = { v: 1, batch, definition } as const;
    const piece = add({
      ...about,
      kind: "defect_tallied",
      body: { look: "first", tray, defect: "not_sure" },
    });
    const photo = photos[mark];
    if (photo === undefined) continue;
    const body = { ...photo, type: "image/jpeg" as const, look: "first", tray, piece };
    add({ ...about, kind: "photo_attached", body });
  }
  return new OwnRecords(records);
}

/** Send it all; resolves when every record is confirmed and every photo is held by the server. */
export async function sendBacklog(
  address: string,
  pictures: readonly Uint8Array<ArrayBuffer>[],
  marks: number,
  aBatch: number,
): Promise<Told> {
  fetchFrom(address);
  const identity = await enrolled();
  await until(async () => ((await renewSession(identity)) === undefined ? true : undefined));
  const [line] = (await until(async () => valueOf(await listBatches()))).batches;
  if (line === undefined) throw new Error("the works has no batch");
  const store = new PhotoFile(new MemoryFile(), 0);
  for (const picture of pictures) {
    const kept = await store.keep(picture);
    if ("why" in kept) throw new Error(kept.why);
  }
  const own = weekOf(identity, line, marks, aBatch, store.all);
  const asker: Asker = {
    identity,
    former: [],
    own: () => own.chain,
    enclosures: new Map(),
    clock: new ServerClock(),
    readPhoto: (file, offset, length) => {
      const bytes = store.read(file, offset, length);
      return Promise.resolve(bytes && Uint8Array.from(bytes));
    },
  };
  return run(asker, own, store);
}

async function run(asker: Asker, own: OwnRecords, store: PhotoFile): Promise<Told> {
  const began = performance.now();
  let state = beginning(NOTHING);
  let [parts, failures, fewestConfirmed] = [0, 0, Infinity];
  const say = (outcome: Outcome): void => {
    const event = { ...outcome, now: performance.now(), chance: Math.random() } as CoreEvent;
    if ("why" in outcome) failures += 1;
    const next = step(state, event);
    state = next.state;
    for (const effect of next.effects) void answer(effect);
  };
  const answer = async (effect: Effect): Promise<void> => {
    if (effect.effect === "keep") {
      if (effect.isAwaited) say({ event: "kept", isSafe: true });
      return;
    }
    if (effect.effect === "send_photo") {
      parts += 1;
      fewestConfirmed = Math.min(fewestConfirmed, state.sending.confirmed);
    }
    const isOfStore =
      effect.effect === "open_chain" || effect.effect === "forget" || effect.effect === "turn_over";
    if (isOfStore || effect.effect === "drop_photo") throw new Error(`nobody wanted ${effect.effect}`);
    say(await carryOut(effect, asker));
  };
  say({
    event: "started",
    chain: own.name,
    base: own.base,
    own: own.outlines(),
    former: [],
    copies: NOTHING,
    enclosed: [],
    photos: store.all,
  });
  const isDone = (): boolean =>
    state.sending.confirmed === own.chain.length && state.photos.every((one) => one.state === "held");
  while (!isDone()) {
    const wait = Math.min(
      LONGEST_WAIT_MS,
      Math.max(1, dueNext(state, performance.now()) - performance.now()),
    );
    await new Promise((resolve) => setTimeout(resolve, wait));
    say({ event: "tick" });
  }
  const { length: photos } = store.all;
  const milliseconds = performance.now() - began;
  return {
    chain: own.name,
    records: own.chain.length,
    photos,
    fewestConfirmed,
    parts,
    failures,
    milliseconds,
  };
}
