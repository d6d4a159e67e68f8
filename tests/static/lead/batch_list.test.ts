// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import {
  batchListFrom,
  inReadingOrder,
  standingOf,
  STANDINGS,
  type BatchPageLine,
  type LookLine,
} from "../../../static/src/lead/batch_list.js";

const LOOK: LookLine = {
  look: "first",
  due: 180,
  looked: 180,
  accepted: 176,
  rejected: 4,
  rework: 0,
  query: 0,
  points: 0,
  signed_by: "a:9",
  worst: "met",
};
const PAGE: BatchPageLine = {
  batch: "s:20",
  number: "SK70-0501",
  part: "DEMO 3",
  opened_at: 0,
  pieces: 180,
  released_by: "",
  late: 0,
  not_understood: 0,
  holds: 0,
  looks: [LOOK, { ...LOOK, look: "second" }],
};
const NONE: ReadonlySet<string> = new Set();

function withSecond(second: Partial<LookLine>): BatchPageLine {
  return { ...PAGE, looks: [LOOK, { ...LOOK, look: "second", ...second }] };
}

describe("where a batch stands", () => {
  test("it waits for the release when no look has a point open", () => {
    expect(standingOf(PAGE, NONE)).toBe("ready");
  });

  test("a batch without any look is not ready", () => {
    expect(standingOf({ ...PAGE, looks: [] }, NONE)).toBe("not_begun");
  });

  test("a hold of a critical find is told apart from any other", () => {
    expect(standingOf({ ...PAGE, holds: 1 }, NONE)).toBe("held");
    expect(standingOf({ ...PAGE, holds: 1 }, new Set(["s:20"]))).toBe("critical");
  });

  test.each(["broken", "over"])("a look whose limit is %s outweighs open points", (worst) => {
    expect(standingOf(withSecond({ worst, points: 3 }), NONE)).toBe("over_limit");
  });

  test("a limit that is only watched is no reason to decide", () => {
    expect(standingOf(withSecond({ worst: "watch", looked: 60, points: 3 }), NONE)).toBe("in_work");
  });

  test("a released batch is open again when a record came late", () => {
    expect(standingOf({ ...PAGE, released_by: "a:30" }, NONE)).toBe("released");
    expect(standingOf({ ...PAGE, released_by: "a:30", late: 1 }, NONE)).toBe("came_late");
  });

  test("what is not understood is never ready", () => {
    expect(standingOf({ ...PAGE, not_understood: 1 }, NONE)).toBe("came_late");
  });

  test("a look nobody counted in or looked for is not begun", () => {
    const second = {
      due: 0,
      looked: 0,
      accepted: 0,
      rejected: 0,
      points: 2,
      signed_by: "",
      worst: "uncounted",
    };
    expect(standingOf(withSecond(second), NONE)).toBe("not_begun");
    expect(standingOf(withSecond({ ...second, rework: 1 }), NONE)).toBe("in_work");
    expect(standingOf(withSecond({ ...second, due: 180 }), NONE)).toBe("in_work");
  });

  test("a look that is half looked at is in work", () => {
    expect(standingOf(withSecond({ looked: 60, points: 3, signed_by: "" }), NONE)).toBe("in_work");
  });

  test("a missing signature is told apart from other open points", () => {
    expect(standingOf(withSecond({ points: 1, signed_by: "" }), NONE)).toBe("not_signed");
    expect(standingOf(withSecond({ points: 2, signed_by: "" }), NONE)).toBe("points_open");
    expect(standingOf(withSecond({ points: 1 }), NONE)).toBe("points_open");
  });
});

describe("the order of reading", () => {
  test("is that of the standings, whatever order the list came in, and the newest first within one", () => {
    const pages = [
      { ...PAGE, batch: "ready new" },
      { ...PAGE, batch: "released", released_by: "a:30" },
      { ...PAGE, batch: "held", holds: 2 },
      { ...PAGE, batch: "ready old" },
      { ...PAGE, batch: "critical", holds: 1 },
      { ...withSecond({ worst: "over" }), batch: "over" },
    ];
    const order = inReadingOrder(pages, new Set(["critical"]));
    expect(order.map(({ page }) => page.batch)).toEqual([
      "critical",
      "held",
      "over",
      "ready new",
      "ready old",
      "released",
    ]);
    const places = order.map(({ standing }) => STANDINGS.indexOf(standing));
    expect(places).toEqual([...places].sort((left, right) => left - right));
  });
});

describe("the list as it comes", () => {
  const answer = { as_of: 1, pages: [PAGE] };

  test("is taken with members a newer server adds", () => {
    expect(batchListFrom({ ...answer, more: true })).toEqual({ ...answer, more: true });
  });

  test("is not taken when a member is missing or of another sort", () => {
    expect(batchListFrom({ as_of: 1 })).toBeUndefined();
    expect(batchListFrom({ ...answer, pages: [{ ...PAGE, holds: "1" }] })).toBeUndefined();
  });
});
