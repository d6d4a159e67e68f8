// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { asideFrom } from "../../../static/src/lead/set_aside_list.js";

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
