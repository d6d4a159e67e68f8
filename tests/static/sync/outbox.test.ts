// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { nextStretch, takeAnswer, unsent } from "../../../static/src/sync/outbox.js";

const OWN = [1, 2, 3, 4].map((n) => ({ hash: `h${n}`, bytes: 100 }));
const ANOTHERS = { epoch: "e1", n: 9, hash: "another", held: [], safe: 0 };

function answered(...exceptions: { n: number; code: string }[]) {
  return takeAnswer(unsent("left", OWN), { ...ANOTHERS, exceptions }, { first: 1, last: 4 });
}

describe("the answer to what was sent of a chain that was left behind", () => {
  it("covers what was stored and what was set aside", () => {
    const { sending, isMoved } = answered({ n: 2, code: "number-taken" });
    expect([sending.confirmed, isMoved, nextStretch(sending, 0)]).toEqual([4, true, undefined]);
    expect(sending.exceptions).toEqual([{ n: 2, code: "number-taken" }]);
  });

  it("does not cover a line that nothing signed led to: it is sent again", () => {
    const { sending } = answered({ n: 2, code: "unvouched" });
    expect([sending.confirmed, sending.held]).toEqual([1, [{ first: 3, last: 4 }]]);
    expect(nextStretch(sending, 0)).toEqual({ first: 2, last: 2 });
  });

  it("has not moved anything when no line is vouched for, so that less is sent", () => {
    expect(answered(...[1, 2, 3, 4].map((n) => ({ n, code: "unvouched" }))).isMoved).toBe(false);
  });

  it("to a bare question covers nothing", () => {
    const { sending, isMoved } = takeAnswer(unsent("left", OWN), { ...ANOTHERS, exceptions: [] }, undefined);
    expect([sending.confirmed, sending.held, isMoved]).toEqual([0, [], false]);
  });
});
