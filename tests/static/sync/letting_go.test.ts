// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { beginning, step, type CoreEvent, type CoreState } from "../../../static/src/sync/core.js";
import { NOTHING } from "../../../static/src/folds/copies.js";
import { mayLeave, safeBy, whyStays } from "../../../static/src/sync/letting_go.js";
import { unsent } from "../../../static/src/sync/outbox.js";

const OWN = ["h1", "h2", "h3"].map((hash) => ({ hash, bytes: 600, batch: "b:1" }));
const SAFE = { ...unsent("old", OWN), confirmed: 3, safe: 3 };
const IDLE: CoreState = {
  ...beginning(NOTHING),
  sending: { ...unsent("new", OWN), confirmed: 3, safe: 3 },
  former: [SAFE],
  asksMark: false,
  isStarted: true,
};

describe("a chain that was left behind", () => {
  it("may leave when a verified copy holds all of it", () => {
    expect([whyStays(IDLE, "old"), mayLeave(IDLE)]).toEqual([undefined, ["old"]]);
  });

  it.each([
    ["not_safe", { former: [{ ...SAFE, safe: 2 }] }],
    ["has_exceptions", { former: [{ ...SAFE, exceptions: [{ n: 2, code: "number-taken" }] }] }],
    ["pin_not_judged", { enclosed: [{ chain: "old", n: 2 }] }],
    ["batch_carried", { copies: { ...NOTHING, pairs: { "b:1/second": { whole: true } } } }],
  ] as const)("stays: %s", (why, part) => {
    const state = { ...IDLE, ...part };
    expect([whyStays(state, "old"), mayLeave(state)]).toEqual([why, []]);
  });

  it("leaves only at an idle moment", () => {
    const busy: Partial<CoreState>[] = [
      { asksMark: true },
      { isTurning: true },
      { underWay: { chain: "new", stretch: undefined } },
      { sending: { ...IDLE.sending, confirmed: 2 } },
      { keeping: { entry: "rolled_back" } },
    ];
    expect(busy.map((part) => mayLeave({ ...IDLE, ...part }))).toEqual(busy.map(() => []));
  });
});

describe("the chain in use", () => {
  it("stays, however safe it is", () => {
    expect(whyStays(IDLE, "new")).toBe("in_use");
  });
});

describe("what a mark says is safe", () => {
  it("holds only with our hash at the mark, and no further than the mark", () => {
    const marks = [
      { n: 3, hash: "h3", safe: 3 },
      { n: 2, hash: "h2", safe: 9 },
      { n: 3, hash: "other", safe: 3 },
      { n: 4, hash: "h4", safe: 4 },
      { n: 0, hash: "", safe: 0 },
    ];
    expect(marks.map((mark) => safeBy(SAFE, mark))).toEqual([3, 2, 0, 0, 0]);
  });
});

describe("turning over", () => {
  const at = (event: object): CoreEvent => ({ ...event, now: 0, chance: 0.5 }) as CoreEvent;
  const leaving = (state: CoreState, event: object): readonly string[] =>
    step(state, at(event)).effects.flatMap((one) => (one.effect === "turn_over" ? one.chains : []));

  it("is asked for once the mark of a chain that was left says that it is safe", () => {
    const before: CoreState = {
      ...IDLE,
      former: [{ ...SAFE, safe: 0 }],
      underWay: { chain: "new", stretch: undefined },
    };
    const mark = { epoch: "e", n: 3, hash: "h3", held: [], exceptions: [] };
    const former = [{ chain: "old", n: 3, hash: "h3", safe: 3 }];
    expect(leaving(before, { event: "marked", mark })).toEqual([]);
    expect(leaving(before, { event: "marked", mark, former })).toEqual(["old"]);
  });

  it("is not asked for again while it is under way", () => {
    const { state } = step(IDLE, at({ event: "tick" }));
    expect(leaving(state, { event: "tick" })).toEqual([]);
  });

  it("forgets the chains that left", () => {
    const { state } = step(IDLE, at({ event: "tick" }));
    const left = step(state, at({ event: "turned_over", chains: ["old"] })).state;
    expect([left.former, left.isTurningOver]).toEqual([[], false]);
  });

  it("keeps what could not leave, and does not ask again before the next start", () => {
    const { state } = step(IDLE, at({ event: "tick" }));
    const failed = step(state, at({ event: "turned_over", chains: [] })).state;
    expect([failed.former.length, leaving(failed, { event: "tick" })]).toEqual([1, []]);
  });
});
