// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { hashOf } from "../../../static/src/records/hash.js";
import type { ReadRecord, RecordOf } from "../../../static/src/records/kinds.js";
import { recall } from "../../../static/src/records/read.js";
import { whyNew } from "../../../static/src/shell/new_chain.js";

const CHAIN = "c".repeat(26);
const OPENED_AT = 1_795_608_000_000;
const HOUR = 60 * 60 * 1000;

function opened(why: RecordOf<"chain_opened">["body"]["why"]): ReadRecord {
  const body = why === "first" ? { why } : { before: hashOf("before"), why };
  return recall(
    JSON.stringify({
      body,
      chain: CHAIN,
      device: `${CHAIN}:1`,
      kind: "chain_opened",
      made_at: OPENED_AT,
      n: 1,
      offset_min: 60,
      time_zone: "Europe/Berlin",
      v: 1,
    }),
  );
}

describe("a tablet that began anew", () => {
  it.each(["wiped", "behind", "forked", "key_lost"] as const)("says that it was %s", (why) => {
    expect(whyNew([opened(why)], CHAIN, OPENED_AT + HOUR)).toEqual({ why, at: OPENED_AT });
  });

  it("says nothing of its first chain", () => {
    expect(whyNew([opened("first")], CHAIN, OPENED_AT)).toBeUndefined();
  });

  it("says nothing of another tablet's new chain", () => {
    expect(whyNew([opened("wiped")], "d".repeat(26), OPENED_AT)).toBeUndefined();
  });

  it("is quiet about it after a shift", () => {
    expect(whyNew([opened("wiped")], CHAIN, OPENED_AT + 13 * HOUR)).toBeUndefined();
  });
});
