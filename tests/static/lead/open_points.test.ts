// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import type { Difference } from "../../../static/src/folds/ledger.js";
import type { Point } from "../../../static/src/folds/look.js";
import type { LookShown } from "../../../static/src/lead/batch_answer.js";
import { openPoints } from "../../../static/src/lead/open_points.js";

const SPLIT: Point = { kind: "split_too_much", subject: "", amount: -20 };
const SHORT: Point = { kind: "tray_short", subject: "3", amount: -2 };
const HOLD: Point = { kind: "hold", subject: "a:7", amount: 0 };
const SIGNED: Point = { kind: "not_signed", subject: "", amount: 0 };
const EYES: Point = { kind: "same_eyes", subject: "p:1", amount: 60 };
const line = (point: Point, look: string, accepted_by = ""): Difference => ({ ...point, look, accepted_by });

function page(
  first: readonly Point[],
  second: readonly Point[],
  differences: readonly Difference[] = [],
  points: readonly Point[] = [],
) {
  const look = (name: string, points: readonly Point[]): LookShown => ({
    look: name,
    points,
    signed_by: "",
    independence: [],
  });
  const ledger = { opened: 180, taken: 0, left: 180, looks: [], differences, points };
  return openPoints({ looks: [look("first", first), look("second", second)], ledger });
}

describe("open points of a batch's page", () => {
  test("a difference of the batch is said once, and accepted without a look", () => {
    const { ofBatch, ofLooks } = page([SPLIT], [SPLIT], [line(SPLIT, "")]);
    expect(ofBatch).toEqual([{ point: SPLIT, acceptance: "" }]);
    expect([...ofLooks.values()]).toEqual([[], []]);
  });

  test("what the route has open is said of the batch, and its lines are accepted there", () => {
    const lost: Point = { kind: "pieces_short", subject: "60", amount: -1 };
    const away: Point = { kind: "lot_away", subject: "f:9", amount: 60 };
    const differences = [line(lost, ""), line({ ...lost, amount: -2 }, "", "a:9")];
    const { ofBatch } = page([], [], differences, [away]);
    expect(ofBatch).toEqual([{ point: lost, acceptance: "" }, { point: away }]);
  });

  test("a difference of a look is accepted in that look", () => {
    const { ofLooks } = page([], [SHORT], [line(SHORT, "second")]);
    expect(ofLooks.get("second")).toEqual([{ point: SHORT, acceptance: "second" }]);
  });

  test("the same words at another amount, look or already accepted are no ground for an acceptance", () => {
    const others = [
      line({ ...SHORT, amount: -3 }, "first"),
      line(SHORT, "second"),
      line(SHORT, "first", "a:9"),
    ];
    expect(page([SHORT], [], others).ofLooks.get("first")).toEqual([{ point: SHORT }]);
  });

  test("eyes that came back are accepted as shown; what is still to be done is not", () => {
    const { ofLooks } = page([SIGNED], [EYES, SIGNED]);
    expect(ofLooks.get("second")).toEqual([{ point: EYES, acceptance: "second" }, { point: SIGNED }]);
  });

  test("what every look lacks in its own way stays with each look", () => {
    const { ofBatch, ofLooks } = page([SIGNED], [SIGNED]);
    expect(ofBatch).toEqual([]);
    expect(ofLooks.get("first")).toEqual([{ point: SIGNED }]);
  });

  test("a hold of the batch is said once, a hold of one look there", () => {
    expect(page([HOLD], [HOLD]).ofBatch).toEqual([{ point: HOLD }]);
    expect(page([HOLD], []).ofLooks.get("first")).toEqual([{ point: HOLD }]);
  });
});
