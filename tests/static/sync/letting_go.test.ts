// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { beginning, step, type CoreEvent, type CoreState } from "../../../static/src/sync/core.js";
import { NOTHING } from "../../../static/src/folds/copies.js";
import { leavingUpTo, mayLeave, without, whyStays } from "../../../static/src/sync/letting_go.js";
import { hashAt, nextStretch, safeBy, takeMark, unsent } from "../../../static/src/sync/outbox.js";

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
    expect([whyStays(IDLE, "old"), mayLeave(IDLE)]).toEqual([undefined, { chains: ["old"], upTo: 0 }]);
  });

  it.each([
    ["not_safe", { former: [{ ...SAFE, safe: 2 }] }],
    ["has_exceptions", { former: [{ ...SAFE, exceptions: [{ n: 2, code: "number-taken" }] }] }],
    ["pin_not_judged", { enclosed: [{ chain: "old", n: 2 }] }],
    ["batch_carried", { copies: { ...NOTHING, pairs: { "b:1/second": { whole: true } } } }],
  ] as const)("stays: %s", (why, part) => {
    const state = { ...IDLE, ...part };
    expect([whyStays(state, "old"), mayLeave(state)]).toEqual([why, undefined]);
  });

  it("leaves only at an idle moment", () => {
    const busy: Partial<CoreState>[] = [
      { asksMark: true },
      { isTurning: true },
      { underWay: { chain: "new", stretch: undefined } },
      { sending: { ...IDLE.sending, confirmed: 2 } },
      { keeping: { entry: "rolled_back" } },
      { pull: { isUnderWay: true, failures: 0, due: 0 } },
    ];
    expect(busy.map((part) => mayLeave({ ...IDLE, ...part }))).toEqual(busy.map(() => undefined));
  });
});

describe("the chain in use", () => {
  /** Two records of batch b:1 under the sign-on 2, then three of b:2 under the sign-on 5. */
  const CHAIN = [1, 2, 3, 4, 5, 6, 7, 8].map((n) => ({
    hash: `h${n}`,
    bytes: 600,
    ...(n === 3 || n === 4 ? { batch: "b:1", under: 2 } : {}),
    ...(n > 5 ? { batch: "b:2", under: 5 } : {}),
  }));
  const SAFE_ALL = { ...unsent("new", CHAIN), confirmed: 8, safe: 8 };
  const STATE: CoreState = { ...IDLE, former: [], fewestLeaving: 2, sending: SAFE_ALL };

  it("leaves from its beginning as far as it is safe, and its newest record stays with the sign-on it names", () => {
    expect(whyStays(STATE, "new")).toBe("in_use");
    expect(leavingUpTo(STATE)).toBe(4);
    expect(mayLeave(STATE)).toEqual({ chains: [], upTo: 4 });
  });

  it.each([
    ["not_safe", { sending: { ...SAFE_ALL, safe: 0 } }],
    ["too_few", { sending: { ...SAFE_ALL, safe: 1 } }],
    ["too_few", { fewestLeaving: 5 }],
    ["batch_carried", { copies: { ...NOTHING, pairs: { "b:1/second": { whole: true } } } }],
    ["has_exceptions", { sending: { ...SAFE_ALL, exceptions: [{ n: 2, code: "number-taken" }] } }],
    ["pin_not_judged", { enclosed: [{ chain: "new", n: 2 }] }],
  ] as const)("stays whole: %s", (why, part) => {
    const state = { ...STATE, ...part };
    expect([leavingUpTo(state), mayLeave(state)]).toEqual([why, undefined]);
  });

  it("leaves up to the batch that is carried", () => {
    const state = { ...STATE, copies: { ...NOTHING, pairs: { "b:2/first": { whole: true } } } };
    expect(leavingUpTo(state)).toBe(4);
  });

  it("goes on behind what left: numbers, hashes and what is to be sent", () => {
    const rest = without({ ...SAFE_ALL, confirmed: 6 }, 4);
    expect([rest.own.length, hashAt(rest, 4), hashAt(rest, 5), hashAt(rest, 3)]).toEqual([
      4,
      "h4",
      "h5",
      undefined,
    ]);
    expect(nextStretch(rest, 0)).toEqual({ first: 7, last: 8 });
  });

  it("is offered from its beginning in the journal to a server that was put back to an older copy", () => {
    const rest = without(SAFE_ALL, 4);
    const mark = { epoch: "e2", n: 2, hash: "h2", held: [], exceptions: [], safe: 2 };
    const { sending } = takeMark(rest, mark, undefined, undefined);
    expect([sending.halted, sending.confirmed, sending.safe]).toEqual([undefined, 4, 0]);
    expect(nextStretch(sending, 0)).toEqual({ first: 5, last: 8 });
  });

  it("is known to be another's when the server has other bytes where it begins in the journal", () => {
    const mark = { epoch: "e", n: 4, hash: "another", held: [], exceptions: [], safe: 0 };
    expect(takeMark(without(SAFE_ALL, 4), mark, undefined, undefined).sending.halted).toBe("forked");
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
    step(state, at(event)).effects.flatMap((one) => (one.effect === "turn_over" ? one.leaving.chains : []));

  it("is asked for once the mark of a chain that was left says that it is safe", () => {
    const before: CoreState = {
      ...IDLE,
      former: [{ ...SAFE, safe: 0 }],
      underWay: { chain: "new", stretch: undefined },
    };
    const mark = { epoch: "e", n: 3, hash: "h3", held: [], exceptions: [], safe: 0 };
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
    const left = step(state, at({ event: "turned_over", left: { chains: ["old"], upTo: 0 } })).state;
    expect([left.former, left.turnOver]).toEqual([[], "no"]);
  });

  it("keeps what could not leave, and does not ask again before the next start", () => {
    const { state } = step(IDLE, at({ event: "tick" }));
    const failed = step(state, at({ event: "turned_over", left: undefined })).state;
    expect([failed.former.length, leaving(failed, { event: "tick" })]).toEqual([1, []]);
  });
});
