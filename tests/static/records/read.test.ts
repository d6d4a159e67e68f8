// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { CHAIN_NAME_BYTES, chainName } from "../../../static/src/records/chain_name.js";
import { compose, headAfter } from "../../../static/src/records/compose.js";
import { KNOWN_KINDS } from "../../../static/src/records/forms.js";
import { hashOf } from "../../../static/src/records/hash.js";
import { decode, LONGEST_RECORD, read, recall } from "../../../static/src/records/read.js";
import { RefusedRecord } from "../../../static/src/records/refused.js";
import { check, write } from "./exchange.js";

const CHAIN = "a".repeat(26);
const DEVICE = `${"b".repeat(26)}:2`;
const OPENED = `{"body":{"why":"first"},"chain":"${CHAIN}","device":"${DEVICE}","kind":"chain_opened","made_at":1,"n":1,"offset_min":0,"time_zone":"UTC","v":1}`;

function codeOf(line: string): string {
  try {
    decode(line);
    return "taken";
  } catch (problem) {
    if (problem instanceof RefusedRecord) return problem.code;
    throw problem;
  }
}

describe("a line", () => {
  it("is a record with id and hash", () => {
    const record = decode(OPENED);
    expect([record.id, record.kind, record.known?.kind]).toEqual([
      `${CHAIN}:1`,
      "chain_opened",
      "chain_opened",
    ]);
    expect(record.hash).toBe(hashOf(OPENED));
  });

  it("has the hash of the published SHA-256 vector", () => {
    // FIPS 180-4, the message "abc" of its examples.
    expect(hashOf("abc")).toBe("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  });

  it.each([
    ["no JSON", "unreadable", OPENED.slice(1)],
    ["no object", "unreadable", "[1]"],
    ["an unknown member of the envelope", "unreadable", OPENED.replace('"n":1', '"m":1,"n":1')],
    ["an ill-shaped body", "unreadable", OPENED.replace('"first"', '"never"')],
    ["an unknown member of the body", "unreadable", OPENED.replace('"why"', '"but":1,"why"')],
    ["a second record without a previous", "unreadable", OPENED.replace('"n":1', '"n":2')],
    [
      "a first record with a previous",
      "unreadable",
      OPENED.replace('"time', `"previous":"${"0".repeat(64)}","time`),
    ],
    ["a line feed behind a name", "unreadable", OPENED.replace(CHAIN, `${CHAIN}\\n`)],
    ["half of a pair", "unreadable", OPENED.replace('"UTC"', '"\\ud800"')],
    ["a blank", "not-canonical", OPENED.replace(",", ", ")],
    ["a doubled member", "not-canonical", OPENED.replace('"n":1', '"n":1,"n":1')],
    ["an escape that need not be", "not-canonical", OPENED.replace("UTC", "\\u0055TC")],
    ["minus nought", "not-canonical", OPENED.replace('"made_at":1', '"made_at":-0')],
    ["members out of order", "not-canonical", OPENED.replace('"n":1,"offset_min":0', '"offset_min":0,"n":1')],
    ["U+0000", "not-canonical", OPENED.replace("UTC", "U\\u0000")],
    ["more bytes than a record may have", "too-large", OPENED.padEnd(LONGEST_RECORD + 1)],
  ])("with %s is refused as %s", (_, code, line) => {
    expect(codeOf(line)).toBe(code);
  });

  it("of a kind that is not understood is kept, and not known", () => {
    const line = OPENED.replace("chain_opened", "chain_mended").replace(
      '{"why":"first"}',
      '{"a":[1,{"b":true}]}',
    );
    expect(decode(line).known).toBeUndefined();
  });

  it("hazard_D14 of a newer version is kept, and not known", () => {
    expect(decode(OPENED.replace('"v":1', '"v":2')).known).toBeUndefined();
  });

  it.each(["1.5", "null", "9007199254740992", '{"A":1}', `${"[".repeat(40)}${"]".repeat(40)}`])(
    "of a kind that is not understood is refused when its body holds %s",
    (value) => {
      const line = OPENED.replace("chain_opened", "chain_mended").replace('"first"', value);
      expect(codeOf(line)).toBe("not-canonical");
    },
  );

  it("of the journal is read again without the comparison of bytes", () => {
    const [again, own] = [read(OPENED), recall(OPENED)];
    expect([again.id, own.id, own.hash]).toEqual([`${CHAIN}:1`, `${CHAIN}:1`, hashOf(OPENED)]);
  });
});

describe("random records", () => {
  it("come in all kinds and are all taken, each continuing the one before", () => {
    const lines = write(20260101, 400);
    const records = lines.map((line) => decode(line));
    expect(new Set(records.map((record) => `${record.kind} ${record.v}`))).toEqual(new Set(KNOWN_KINDS));
    const verdicts = check(new TextEncoder().encode(lines.join("\n")));
    expect(verdicts).toEqual(records.map((record) => record.hash));
  });
});

describe("composing", () => {
  const writer = { device: DEVICE, site: undefined };
  const stamp = {
    made_at: 5,
    offset_min: 60,
    time_zone: "Europe/Berlin",
    skew_ms: undefined,
    sign_on: undefined,
  };
  const first = compose(
    { kind: "chain_opened", v: 1, body: { why: "first" } },
    { chain: CHAIN, n: 0, hash: undefined },
    writer,
    stamp,
  );

  it("begins a chain without a previous", () => {
    expect(first.line).toBe(
      `{"body":{"why":"first"},"chain":"${CHAIN}","device":"${DEVICE}","kind":"chain_opened","made_at":5,"n":1,"offset_min":60,"time_zone":"Europe/Berlin","v":1}`,
    );
  });

  it("names the hash of the record before", () => {
    const second = compose(
      { kind: "signed_on", v: 1, body: { person: DEVICE } },
      headAfter(first),
      { device: DEVICE, site: DEVICE },
      { ...stamp, skew_ms: -12 },
    );
    expect(JSON.parse(second.line)).toMatchObject({
      n: 2,
      previous: hashOf(first.line),
      skew_ms: -12,
      site: DEVICE,
    });
  });

  it("refuses a draft that is no record", () => {
    const draft = {
      kind: "signed_on",
      v: 1,
      body: { person: "Anna" },
    } as const;
    expect(() => compose(draft, headAfter(first), writer, stamp)).toThrow(RefusedRecord);
  });
});

describe("the name of a chain", () => {
  it("is the base32 of its bytes", () => {
    // RFC 4648 writes these 16 bytes as MZXW6YTBOJTG633CMFZGM33PMI, the encoding of "foobarfoobarfoob".
    const bytes = new TextEncoder().encode("foobarfoobarfoob");
    expect(chainName(bytes)).toBe("mzxw6ytbojtg633cmfzgm33pmi");
  });

  it("needs all its random bytes", () => {
    expect(() => chainName(new Uint8Array(CHAIN_NAME_BYTES - 1))).toThrow(RangeError);
  });
});
