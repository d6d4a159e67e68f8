// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { leftBehind, nextStretch, takeAnswer, takeMark, unsent } from "../../../static/src/sync/outbox.js";

const OWN = [1, 2, 3, 4].map((n) => ({ hash: `h${n}`, bytes: 100 }));
const ALL = { first: 1, last: 4 };
const ANOTHERS = { epoch: "e1", n: 9, hash: "another", held: [], safe: 0 };

function answered(...exceptions: { n: number; code: string }[]) {
  return takeAnswer(unsent("left", OWN), { ...ANOTHERS, exceptions }, { first: 1, last: 4 });
}

describe("a chain of which another server holds other bytes", () => {
  const confirmed = takeMark(
    unsent("copied", OWN),
    { epoch: "e1", n: 4, hash: "h4", held: [], safe: 0, exceptions: [] },
    ALL,
    ALL,
  ).sending;

  function leftAt(epoch: string) {
    const other = { epoch, n: 4, hash: "another", held: [], safe: 0, exceptions: [] };
    return leftBehind(takeMark(confirmed, other, undefined, undefined).sending);
  }

  it("is offered anew where that server was put back: what an earlier one confirmed it never had", () => {
    expect(nextStretch(leftAt("e2"), 0)).toEqual({ first: 1, last: 4 });
  });

  it("is offered anew to the same server too, which may have been put back without a word", () => {
    expect(nextStretch(leftAt("e1"), 0)).toEqual({ first: 1, last: 4 });
  });
});

it("a line that nothing signed led to is no exception any more when the mark covers it", () => {
  const mark = {
    epoch: "e1",
    n: 1,
    hash: "h1",
    held: [],
    safe: 0,
    exceptions: [{ n: 2, code: "unvouched" }],
  };
  const { sending } = takeMark(unsent("own", OWN), mark, ALL, ALL);
  expect(sending.exceptions).toEqual([{ n: 2, code: "unvouched" }]);
  const whole = { ...mark, n: 4, hash: "h4", exceptions: [] };
  expect(takeMark(sending, whole, undefined, undefined).sending.exceptions).toEqual([]);
});

it("an exception is what the newest answer to its record says, and a question that is no push says nothing of it", () => {
  const mark = {
    epoch: "e1",
    n: 4,
    hash: "h4",
    held: [],
    safe: 0,
    exceptions: [{ n: 2, code: "misplaced" }],
  };
  const { sending } = takeMark(unsent("own", OWN), mark, ALL, ALL);
  const again = { ...mark, exceptions: [] };
  expect(takeMark(sending, again, ALL, undefined).sending.exceptions).toEqual(mark.exceptions);
  expect(takeMark(sending, again, ALL, ALL).sending.exceptions).toEqual([]);
  const left = takeAnswer(leftBehind(sending), again, ALL).sending;
  expect(left.exceptions).toEqual([]);
});

describe("the answer to what was sent of a chain that was left behind", () => {
  it("covers what was stored and what was set aside", () => {
    const { sending, isMoved } = answered({ n: 2, code: "number-taken" });
    expect([sending.confirmed, isMoved, nextStretch(sending, 0)]).toEqual([4, true, undefined]);
    expect(sending.exceptions).toEqual([{ n: 2, code: "number-taken" }]);
  });

  it.each(["unvouched", "unknown-device"])("does not cover a line that is %s: it is sent again", (code) => {
    const { sending } = answered({ n: 2, code });
    expect([sending.confirmed, sending.held]).toEqual([1, [{ first: 3, last: 4 }]]);
    expect(nextStretch(sending, 0)).toEqual({ first: 2, last: 2 });
  });

  it("names a line that nothing signed led to no more when it came through", () => {
    const { sending } = takeAnswer(
      answered({ n: 2, code: "unvouched" }).sending,
      { ...ANOTHERS, exceptions: [] },
      { first: 2, last: 2 },
    );
    expect([sending.confirmed, sending.exceptions]).toEqual([4, []]);
  });

  it("has not moved anything when no line is vouched for, so that less is sent", () => {
    expect(answered(...[1, 2, 3, 4].map((n) => ({ n, code: "unvouched" }))).isMoved).toBe(false);
  });

  it("to a bare question covers nothing", () => {
    const { sending, isMoved } = takeAnswer(unsent("left", OWN), { ...ANOTHERS, exceptions: [] }, undefined);
    expect([sending.confirmed, sending.held, isMoved]).toEqual([0, [], false]);
  });
});
