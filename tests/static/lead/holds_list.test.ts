// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import {
  inReadingOrder,
  type HoldLine,
  type HoldsList,
  type RequestLine,
} from "../../../static/src/lead/holds_list.js";

const HOLD: HoldLine = {
  hold: "a:1",
  batch: "",
  cause: "limit",
  look: "first",
  cause_withdrawn: false,
  said: "major",
  at: 0,
};
const REQUEST: RequestLine = {
  request: "a:2",
  batch: "",
  kind: "release_requested",
  state: "granted",
  reasons: [],
  asked_at: 0,
};

/** One batch for each thing that can wait, in the order of their numbers. */
const LISTED: HoldsList = {
  as_of: 0,
  holds: [
    { ...HOLD, batch: "held" },
    { ...HOLD, batch: "critical" },
    { ...HOLD, batch: "critical", cause: "critical" },
  ],
  queries: [{ batch: "query", look: "first", piece: "a:3", at: 0 }],
  requests: [
    { ...REQUEST, batch: "granted" },
    { ...REQUEST, batch: "declined", state: "declined" },
    { ...REQUEST, batch: "asked", state: "open" },
    { ...REQUEST, batch: "critical" },
  ],
  batches: ["granted", "declined", "asked", "query", "held", "critical"].map((batch, place) => ({
    batch,
    number: `SK70-05${place + 10}`,
    seen: [],
  })),
};

const named = (batches: HoldsList["batches"]): string[] => batches.map(({ batch }) => batch);

describe("the order in which holds are read", () => {
  test("is by what waits, and what is decided stands below all of it", () => {
    const { waiting, decided } = inReadingOrder(LISTED, undefined);
    expect(named(waiting)).toEqual(["critical", "held", "query", "asked"]);
    expect(named(decided)).toEqual(["granted", "declined"]);
  });

  test("is by number where the same waits", () => {
    const holds = [...LISTED.holds, { ...HOLD, batch: "asked" }, { ...HOLD, batch: "granted" }];
    expect(named(inReadingOrder({ ...LISTED, holds }, undefined).waiting)).toEqual([
      "critical",
      "granted",
      "asked",
      "held",
      "query",
    ]);
  });

  test("begins with the batch somebody came for, even where nothing of it waits", () => {
    const { waiting, decided } = inReadingOrder(LISTED, "declined");
    expect(named(waiting)[0]).toBe("declined");
    expect(named(decided)).toEqual(["granted"]);
  });
});
