// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import {
  after,
  MOST_PAIRS,
  NOTHING,
  withoutKnown,
  type Copies,
  type Entry,
} from "../../../static/src/folds/copies.js";

function fold(...entries: Entry[]): Copies {
  return entries.reduce(after, NOTHING);
}

const taken = (pair: string): Entry => ({ entry: "taken_up", pair });
const page = (cursor: string, pairs: string[], more = false, lines: string[] = []): Entry => ({
  entry: "page",
  page: { epoch: "e", cursor, more, pairs, lines },
});

describe("a pair", () => {
  it("is whole when a page without more has come since it was taken up", () => {
    const started = fold(page("1.x", []), taken("b/first"), page("2.x", ["b/first"], true));
    expect(started.pairs["b/first"]).toEqual({ cursor: "2.x", whole: false });
    expect(after(started, page("3.x", ["b/first"])).pairs["b/first"]).toEqual({ cursor: "3.x", whole: true });
  });

  it("that was taken up while a page was on its way is not whole by it", () => {
    expect(fold(taken("b/first"), page("1.x", [])).pairs["b/first"]).toEqual({ whole: false });
  });

  it("that was not taken up for longest is left out when there are too many", () => {
    const many = Array.from({ length: MOST_PAIRS }, (_, at) => taken(`b/${at}x`));
    const pairs = Object.keys(fold(...many, taken("b/0x"), taken("b/new")).pairs);
    expect(pairs).toHaveLength(MOST_PAIRS);
    expect(pairs).toContain("b/0x");
    expect(pairs).not.toContain("b/1x");
  });

  it("that was left out while a page was on its way is not carried again by that page", () => {
    expect(fold(page("1.x", ["b/gone"])).pairs).toEqual({});
  });
});

describe("a roll-back", () => {
  const before = fold(taken("b/first"), page("2.x", ["b/first"], false, ["one", "two"]));
  const rolledBack = after(before, { entry: "rolled_back" });

  it("drops the cursors and keeps the copies", () => {
    expect(rolledBack).toMatchObject({
      lines: [],
      old: ["one", "two"],
      pairs: { "b/first": { whole: true } },
    });
    expect([rolledBack.cursor, rolledBack.pairs["b/first"]?.cursor]).toEqual([undefined, undefined]);
  });

  it("keeps the old copies beside half of the new ones, and drops them when those are whole", () => {
    const half = after(rolledBack, page("1.y", ["b/first"], true, ["one"]));
    expect([half.old, half.lines]).toEqual([["one", "two"], ["one"]]);
    const whole = after(half, page("2.y", ["b/first"], false, ["three"]));
    expect([whole.old, whole.lines]).toEqual([[], ["one", "three"]]);
  });

  it("that happens twice keeps each old copy once", () => {
    expect(after(after(rolledBack, page("1.y", [], true, ["two"])), { entry: "rolled_back" }).old).toEqual([
      "one",
      "two",
    ]);
  });
});

describe("the last moment of the server's certificate", () => {
  const empty = { epoch: "e", cursor: "1.x", more: false, pairs: [], lines: [] };
  const known = fold({ entry: "page", page: { ...empty, certificate_ends_at: 70 } });

  it("stands until a page says another", () => {
    const later = after(known, { entry: "page", page: empty });
    const renewed = after(later, { entry: "page", page: { ...empty, certificate_ends_at: 90 } });
    expect([later, renewed].map((one) => one.certificateEndsAt)).toEqual([70, 90]);
  });

  it("is left out of a page that says the same again", () => {
    expect(withoutKnown({ ...empty, certificate_ends_at: 70 }, known)).toEqual(empty);
    expect(withoutKnown({ ...empty, certificate_ends_at: 71 }, known).certificate_ends_at).toBe(71);
  });

  it("is unknown in a file of an earlier version", () => {
    const { epoch, cursor, pairs, lines, old } = known;
    const earlier = { epoch, cursor, pairs, lines, old };
    expect(fold({ entry: "all", format: 1, copies: earlier as Copies }).certificateEndsAt).toBe(0);
  });
});

describe("the sealing key and the rows of sign-ons", () => {
  const key = { name: "k", public_key: "AAAA" };
  const rows = [{ sign_on: "a:2", person: "s:5", proven: false }];
  const empty = { epoch: "e", cursor: "1.x", more: false, pairs: [], lines: [] };
  const known = fold({ entry: "page", page: { ...empty, as_of: 5, sealing: key, sign_ons: rows } });

  it("are kept with the server's time", () => {
    expect([known.sealing, known.signOns]).toEqual([
      { as_of: 5, value: key },
      { as_of: 5, value: rows },
    ]);
  });

  it("stand until a page says others", () => {
    const proven = [{ ...rows[0], proven: true }] as typeof rows;
    const later = after(known, { entry: "page", page: { ...empty, as_of: 9, sign_ons: proven } });
    expect([later.sealing?.as_of, later.signOns]).toEqual([5, { as_of: 9, value: proven }]);
  });

  it("are left out of a page that says the same again", () => {
    expect(withoutKnown({ ...empty, as_of: 9, sealing: key, sign_ons: rows }, known)).toEqual({
      ...empty,
      as_of: 9,
    });
  });

  it("are unknown in a file of an earlier version", () => {
    const { epoch, cursor, pairs, lines, old, confirmed, batches } = known;
    const earlier = { epoch, cursor, pairs, lines, old, confirmed, batches };
    const read = fold({ entry: "all", format: 1, copies: earlier as Copies });
    expect([read.sealing, read.signOns, read.former]).toEqual([undefined, undefined, {}]);
  });
});
