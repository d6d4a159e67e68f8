// SPDX-License-Identifier: Apache-2.0
// A small invented part for the bench's tests, and records about it.
import { foldBench, type BenchState } from "../../../static/src/folds/bench.js";
import type {
  DefectClass,
  DefectWord,
  KnownRecord,
  PartDefinition,
  ReadRecord,
} from "../../../static/src/records/kinds.js";

export const CHAIN = "a".repeat(26);
export const SIGN_ON = `${CHAIN}:2`;
export const TRAY = `${CHAIN}:3`;
export const BATCH = `${"s".repeat(26)}:20`;
export const PART = `${"s".repeat(26)}:10`;

export function word(defect: string, defectClass?: DefectClass, lookAlike?: string): DefectWord {
  return {
    defect,
    key: { en: defect },
    words: { en: defect },
    ...(defectClass === undefined ? {} : { class: defectClass }),
    ...(lookAlike === undefined ? {} : { look_alike: lookAlike }),
  };
}

export const SCRATCH: DefectWord = {
  ...word("scratch", "minor", "lap"),
  by_zone: [
    { zone: "bow", class: "critical" },
    { zone: "flank", class: "minor" },
  ],
};

export const DEFINITION: PartDefinition = {
  subject: "part",
  part: "P-1",
  revision: "A",
  name: { en: "part" },
  tray_places: 60,
  looks: ["first", "second"],
  zones: [
    { zone: "bow", words: { en: "bow" } },
    { zone: "flank", words: { en: "flank" } },
  ],
  defects: [
    word("lap", "critical", "scratch"),
    word("underfill", "major"),
    SCRATCH,
    { ...word("staining", "minor"), rework: "wipe" },
    word("rub", "minor"),
  ],
  cavities: ["A", "B"],
  limits: [
    { look: "first", class: "critical", allowed_per_thousand: 0 },
    { look: "first", class: "minor", allowed_per_thousand: 40 },
  ],
};

/** What a batch of this part is that was opened, with a tray of its first look, and then has these records. */
export function foldHere(
  records: readonly ReadRecord[],
  proven: ReadonlyMap<string, string> = new Map(),
): BenchState {
  const opened = { ...record(20, "batch_opened", { number: "P1-0001", pieces: 60 }), id: BATCH };
  const tray = record(3, "tray_opened", { look: "first", number: 1, places: 60 });
  return foldBench([opened, tray, ...records], new Map([[PART, DEFINITION]]), proven);
}

type Member = KnownRecord["kind"];
type BodyOf<K extends Member> = Extract<KnownRecord, { kind: K }>["body"];

/** One record as the tablet reads it; only what the screens look at is filled in. */
export function record<K extends Member>(
  n: number,
  kind: K,
  body: BodyOf<K>,
  signOn: string = SIGN_ON,
): ReadRecord {
  const envelope = {
    batch: BATCH,
    chain: CHAIN,
    definition: PART,
    device: `${"s".repeat(26)}:5`,
    kind,
    made_at: 1_790_000_000_000 + n * 1000,
    n,
    offset_min: 0,
    sign_on: signOn,
    site: `${"s".repeat(26)}:1`,
    skew_ms: 0,
    time_zone: "UTC",
    v: 1,
    body,
  };
  return {
    id: `${CHAIN}:${n}`,
    hash: "",
    chain: CHAIN,
    n,
    kind,
    v: 1,
    made_at: envelope.made_at,
    sign_on: signOn,
    batch: BATCH,
    line: JSON.stringify(envelope),
    known: envelope as unknown as KnownRecord,
  };
}
