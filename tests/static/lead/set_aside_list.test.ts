// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { asideFrom, fateOf } from "../../../static/src/lead/set_aside_list.js";
import { Bench } from "../folds/bench.js";

const ENTRY = {
  chain: "a".repeat(26),
  letters: "AB",
  name: "bench 1",
  code: "number-taken",
  count: 2,
  first_at: 1_790_000_000_000,
  last_at: 1_790_000_001_000,
  kinds: [{ kind: "defect_tallied", count: 2 }],
  admissible: 2,
  admitted: 0,
  lines: ["0".repeat(64), "1".repeat(64)],
};

describe("the list of what was set aside", () => {
  it("is taken as the server says it", () => {
    expect(asideFrom({ as_of: 1, chains: [ENTRY] })).toEqual([ENTRY]);
  });

  it("is nobody's answer when a member is missing", () => {
    expect(asideFrom({ chains: [{ ...ENTRY, lines: undefined }] })).toBeUndefined();
  });
});

describe("a request to admit", () => {
  const request = `${"a".repeat(26)}:9`;

  it("waits until the server answered it, and not another one", () => {
    const server = new Bench("s");
    server.grant(`${"a".repeat(26)}:8`);
    expect(fateOf(request, server.records)).toEqual({ is: "waits" });
  });

  it("says why it was declined", () => {
    const server = new Bench("s");
    server.decline(request, "admitted_already");
    expect(fateOf(request, server.records)).toEqual({ is: "declined", reasons: ["admitted_already"] });
  });

  it("is granted once it was granted, whatever was said before", () => {
    const server = new Bench("s");
    server.decline(request, "not_admissible");
    server.grant(request);
    expect(fateOf(request, server.records)).toEqual({ is: "granted" });
  });
});
