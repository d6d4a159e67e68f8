// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import {
  after,
  MOST_PAIRS,
  NOTHING,
  withoutKnown,
  type Copies,
  type Entry,
  type Page,
  type SignedHead,
} from "../../../static/src/folds/copies.js";
import { canonical } from "../../../static/src/records/canonical.js";

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

describe("what a server that was put back to an older copy does not say any more", () => {
  const server = "s".repeat(26);
  const newer = "t".repeat(26);
  const said = (chain: string, n: number, kind: string, body: object): string =>
    canonical({
      ...{ chain, n, previous: "0".repeat(64), kind, v: 1, device: `${server}:3`, site: `${server}:2` },
      ...{ made_at: 1_790_000_000_000, offset_min: 0, time_zone: "UTC", body },
    });
  const file = "f".repeat(64);
  const content = { subject: "file", of: "part", part: "SK-70", revision: "D", file };
  const [known, granted, defined] = [
    said(server, 4, "person_changed", { name: "Ines Brandt", roles: ["inspector"] }),
    said(server, 5, "request_granted", { request: `${newer}:9` }),
    said(server, 6, "definition_published", { content }),
  ] as const;
  const tablets = said(newer, 7, "person_changed", { name: "Ines Brandt", roles: ["lead"] });
  const signatures = { [`${server}:4`]: "A", [`${server}:5`]: "B", [`${server}:6`]: "C" };
  const head = (chain: string): SignedHead => ({ chain, n: 6, hash: "ab", signature: "x" });
  const heard = (lines: readonly string[], more: Partial<Page>): Entry => ({
    entry: "page",
    page: { epoch: "e", cursor: "1.x", more: false, pairs: [], lines, ...more },
  });
  const lines = [known, granted, defined, tablets];
  const before = fold(heard(lines, { signatures, head: head(server) }), { entry: "rolled_back" });
  const since = after(before, heard([known], { head: head("u".repeat(26)) }));
  const lost = [
    { chain: server, n: 5, line: granted, signature: "B" },
    { chain: server, n: 6, line: defined, signature: "C", file },
  ];

  it("is what it had signed and does not give again, with the file it names", () => {
    expect(since.lost).toEqual(lost);
  });

  it("is not known before all that the server has is here", () => {
    const half = after(before, heard([], { more: true, head: head("u".repeat(26)) }));
    expect([half.lost, half.old]).toEqual([[], lines]);
    expect(after(half, heard([known], {})).lost).toEqual(lost);
  });

  it("is the same of the chain that the server writes to: nobody noticed yet that its log was put back", () => {
    expect(after(before, heard([known], { head: head(server) })).lost).toEqual(lost);
  });

  it("stands once, through another roll-back too", () => {
    const again = after(since, { entry: "rolled_back" });
    expect(after(again, heard([], { head: head("v".repeat(26)) })).lost).toEqual([
      ...lost,
      { chain: server, n: 4, line: known, signature: "A" },
    ]);
  });

  it("is gone when the server answered for it", () => {
    expect(after(since, { entry: "given_back", lines: [granted] }).lost).toEqual(lost.slice(1));
  });

  it("is kept over an end of the app, and unknown in a file of an earlier version", () => {
    expect(fold({ entry: "all", format: 1, copies: since })).toEqual(since);
    const { epoch, cursor, pairs, lines: kept, old } = since;
    const earlier = { epoch, cursor, pairs, lines: kept, old };
    const read = fold({ entry: "all", format: 1, copies: earlier as Copies });
    expect([read.lost, read.signatures]).toEqual([[], {}]);
  });

  it("is not told in a page that has no line of the server", () => {
    const empty = { epoch: "e", cursor: "1.x", more: false, pairs: [], lines: [] };
    expect(withoutKnown({ ...empty, signatures: {} }, NOTHING)).toEqual(empty);
    expect(withoutKnown({ ...empty, signatures }, NOTHING).signatures).toEqual(signatures);
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
