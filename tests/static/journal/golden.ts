// SPDX-License-Identifier: Apache-2.0
// A tablet's files as this version writes them: the real store, on files in memory. tests/golden/make.py keeps them.
import type { Page } from "../../../static/src/folds/copies.js";
import { Store, type StoreFiles } from "../../../static/src/journal/store.js";
import type { Answer } from "../../../static/src/journal/messages.js";
import type { Secret } from "../../../static/src/journal/sealing.js";
import type { Draft } from "../../../static/src/records/kinds.js";
import { Chance } from "../records/chance.js";
import { write } from "../records/exchange.js";
import { MemoryFile } from "./memory_file.js";

export const NAMES = ["journal-a", "journal-b", "fetched", "files"] as const;

/** What the server told: who the tablet is, what it works on, and a page it pulled. */
export interface Told {
  readonly device: string;
  readonly site: string;
  readonly person: string;
  readonly batch: string;
  readonly definition: string;
  readonly secret: Secret;
  readonly page: Page;
  /** The kinds a tablet may write. */
  readonly kinds: readonly string[];
  /** A small picture, as base64. */
  readonly picture: string;
  readonly at: number;
}

export interface Made {
  /** What a new process would find of each file, as base64. */
  readonly files: Readonly<Record<string, string>>;
  readonly lines: readonly string[];
  readonly every_kind: readonly string[];
}

export function bytesOf(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
}

function base64Of(bytes: Uint8Array): string {
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}

export async function make(told: Told): Promise<Made> {
  const chance = new Chance(2026);
  const files = Object.fromEntries(NAMES.map((name) => [name, new MemoryFile()])) as Record<
    (typeof NAMES)[number],
    MemoryFile
  >;
  const store = await Store.open(files satisfies StoreFiles, (length) => chance.bytes(length));
  const every = write(11, 400).map((line) => JSON.parse(line) as Draft & { readonly sign_on?: string });
  const everyKind = new Set(every.map(({ kind }) => kind));
  const written: string[] = [];
  let at = told.at;
  let signOn: string | undefined;
  const add = async (draft: Draft, secret?: Secret): Promise<string> => {
    at += 1000;
    const stamp = { made_at: at, offset_min: 60, time_zone: "Europe/Berlin", skew_ms: 0, sign_on: signOn };
    const { device, site } = told;
    const { line = "", why }: Answer = await store.append(draft, { device, site }, stamp, secret);
    if (why !== undefined) throw new Error(`${draft.kind}: ${why}`);
    written.push(line);
    const { chain, n } = JSON.parse(line) as { chain: string; n: number };
    return `${chain}:${n}`;
  };
  const about = { v: 1, batch: told.batch, definition: told.definition } as const;
  await add({ kind: "chain_opened", v: 1, body: { why: "first" } });
  signOn = await add({ kind: "signed_on", v: 1, body: { person: told.person } }, told.secret);
  const look = "first";
  const tray = await add({ ...about, kind: "tray_opened", body: { look, number: 1, places: 60 } });
  const finds: string[] = [];
  for (const defect of ["lap", "burn", "not_sure", "lap"]) {
    finds.push(await add({ ...about, kind: "defect_tallied", body: { look, tray, defect } }));
  }
  await add({ ...about, kind: "record_withdrawn", body: { record: finds[3] ?? "" } });
  const picture = bytesOf(told.picture);
  const { file = "" } = await store.keepPhoto(picture);
  const photo = {
    file,
    type: "image/jpeg",
    size: picture.length,
    look,
    tray,
    piece: finds[2] ?? "",
  } as const;
  await add({ ...about, kind: "photo_attached", body: photo });
  await store.keep({ entry: "page", page: told.page });
  // The journal goes over to its other file once, as it does after a backup.
  await store.turnOver({ chains: [], upTo: 0 });
  const kinds = new Set(told.kinds);
  for (const draft of every) {
    if (!kinds.delete(`${draft.kind} ${draft.v}`)) continue;
    signOn = draft.sign_on;
    await add(draft);
  }
  if (kinds.size > 0) throw new Error(`never written: ${[...kinds].join(", ")}`);
  const left = (file: MemoryFile): string => {
    const found = file.afterKill();
    return base64Of(found.read(0, found.size()));
  };
  return {
    files: Object.fromEntries(NAMES.map((name) => [name, left(files[name])])),
    lines: written,
    every_kind: write(12, everyKind.size),
  };
}
