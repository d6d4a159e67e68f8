// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { judgements, proofOf, provenAuthors } from "../../../static/src/folds/sign_ons.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { read } from "../../../static/src/records/read.js";
import { canonical } from "../../../static/src/records/canonical.js";
import { Bench, IDS } from "./bench.js";

function signedOn(n: number, sealed?: string): ReadRecord {
  const bench = new Bench("a");
  for (let at = 0; at < n; at += 1) bench.signOn(IDS.anna);
  const record = bench.records.at(-1);
  if (record === undefined) throw new Error("nobody signed on");
  if (sealed === undefined) return record;
  const envelope = JSON.parse(record.line) as { body: object };
  return read(
    canonical({ ...envelope, body: { ...envelope.body, sealed, sealing_key: "0123456789abcdef" } }),
  );
}

function judged(record: ReadRecord, ...verdicts: boolean[]): ReadRecord[] {
  return verdicts.map((proven, at) => {
    const envelope = JSON.parse(record.line) as object;
    const body = { sign_on: record.id, proven };
    const own = { chain: "s".repeat(26), n: at + 2, kind: "sign_on_judged", body };
    return read(canonical({ ...envelope, ...own }));
  });
}

const plain = signedOn(1);
const sealed = signedOn(2, "0".repeat(64));

describe("a sign-on", () => {
  it.each([
    ["none", plain, []],
    ["waiting", sealed, []],
    ["not_proven", sealed, judged(sealed, false)],
    ["proven", sealed, judged(sealed, true)],
    ["proven", sealed, judged(sealed, true, false)],
  ] as const)("is %s", (proof, record, verdicts) => {
    const records = [record, ...verdicts];
    expect(proofOf(record, judgements(records), provenAuthors(records, []))).toBe(proof);
  });
});

describe("the proven authors", () => {
  it("are those the server judged, and those its copies name", () => {
    const copies = [
      { sign_on: "x:1", person: IDS.ben, proven: true },
      { sign_on: "x:2", person: IDS.ben, proven: false },
    ];
    expect([...provenAuthors([plain, sealed, ...judged(sealed, true)], copies)]).toEqual([
      [sealed.id, IDS.anna],
      ["x:1", IDS.ben],
    ]);
  });

  it("are the server's where a copied profile has another's sign-on under the same number", () => {
    const copies = [{ sign_on: sealed.id, person: IDS.ben, proven: true }];
    expect(provenAuthors([sealed, ...judged(sealed, true)], copies).get(sealed.id)).toBe(IDS.ben);
  });
});
