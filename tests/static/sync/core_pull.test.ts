// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { NOTHING } from "../../../static/src/folds/copies.js";
import { NOTHING_LEFT } from "../../../static/src/sync/outbox.js";
import { beginning } from "../../../static/src/sync/core.js";
import { FIRST_CHAIN, tabletWith, type ModelTablet } from "./model.js";

describe("pulling", () => {
  it("moves its cursor only after the page is safe", () => {
    const tablet = tabletWith(0);
    tablet.server.log = ["one"];
    tablet.answer("open");
    tablet.answer("open");
    expect(tablet.state.copies.cursor).toBeUndefined();
    while (tablet.state.copies.cursor === undefined) {
      if (tablet.isWaiting) tablet.answer("open");
      else tablet.pass();
    }
    expect([tablet.state.copies.cursor, tablet.state.copies.lines]).toEqual(["1.e1", ["one"]]);
  });

  it("fetches a page again that could not be kept", () => {
    const tablet = tabletWith(0);
    tablet.server.log = ["one", "two", "three"];
    for (let round = 0; round < 20; round += 1) {
      if (tablet.isWaiting) tablet.answer(round % 2 === 0 ? "open" : "portal");
      else tablet.pass();
    }
    expect(tablet.state.copies).toEqual(tablet.kept);
    tablet.settle();
    expect(tablet.kept.lines).toEqual(["one", "two", "three"]);
  });

  it("follows a push within a second, once for all that is sent meanwhile", () => {
    const tablet = tabletWith(0);
    tablet.settle();
    const pulls = (): number => tablet.asked.filter((one) => one.effect === "pull").length;
    const before = pulls();
    const began = tablet.now;
    tablet.state = { ...tablet.state, pull: { ...tablet.state.pull, due: began + 5_000 } };
    for (let tap = 0; tap < 5; tap += 1) {
      tablet.now = began + tap * 100;
      tablet.save();
      tablet.answer("open");
    }
    expect([tablet.pushes.length, pulls() - before]).toEqual([5, 0]);
    expect(tablet.state.pull.due).toBe(began + 1_000);
  });

  it("asks for the mark when a page is of another epoch", () => {
    const tablet = tabletWith(2);
    tablet.server.log = ["one"];
    tablet.settle();
    const before = tablet.asked.length;
    tablet.now = tablet.state.pull.due;
    tablet.happens({ event: "tick" });
    const page = {
      epoch: "e2",
      cursor: "1.e2",
      more: false,
      pairs: [],
      lines: [],
    };
    tablet.happens({ event: "pulled", page, newest: 0 });
    expect(tablet.asked.slice(before).map((one) => one.effect)).toContain("ask_mark");
  });

  it("asks for the mark when the server holds more of its chain than it wrote, or less than was confirmed", () => {
    const asksWhenHeld = (chain: string, more: number): boolean => {
      const tablet = tabletWith(2);
      tablet.settle();
      const before = tablet.asked.length;
      tablet.now = tablet.state.pull.due;
      tablet.happens({ event: "tick" });
      const page = { chain, epoch: "e1", cursor: "0.e1", more: false, pairs: [], lines: [] };
      tablet.happens({ event: "pulled", page, newest: tablet.own.length + more });
      return tablet.asked.slice(before).some((one) => one.effect === "ask_mark");
    };
    expect(asksWhenHeld(FIRST_CHAIN, 0)).toBe(false);
    expect(asksWhenHeld("one it left", 1)).toBe(false);
    expect(asksWhenHeld(FIRST_CHAIN, 1)).toBe(true);
    expect(asksWhenHeld("one it left", -1)).toBe(false);
    expect(asksWhenHeld(FIRST_CHAIN, -1)).toBe(true);
  });

  it("asks for the mark when the server is there again, and when the tablet comes back into reach", () => {
    const asksBehind = (...events: Parameters<typeof ModelTablet.prototype.happens>[0][]): boolean => {
      const tablet = tabletWith(2);
      tablet.settle();
      const before = tablet.asked.length;
      for (const event of events) {
        tablet.now = Math.max(tablet.now, tablet.state.pull.due);
        tablet.happens({ event: "tick" });
        tablet.happens(event);
      }
      return tablet.asked.slice(before).some((one) => one.effect === "ask_mark");
    };
    const page = { chain: FIRST_CHAIN, epoch: "e1", cursor: "0.e1", more: false, pairs: [], lines: [] };
    const pulled = { event: "pulled", page, newest: 2 } as const;
    expect(asksBehind(pulled)).toBe(false);
    expect(asksBehind({ event: "pull_failed", why: "no_answer" }, pulled)).toBe(true);
    expect(asksBehind({ event: "online" })).toBe(true);
  });

  it("lets all cursors go when a page is of another epoch, and keeps nothing of that page", () => {
    const tablet = tabletWith(2);
    tablet.server.log = ["one"];
    tablet.settle();
    tablet.now = tablet.state.pull.due;
    tablet.happens({ event: "tick" });
    const page = { epoch: "e2", cursor: "2.e2", more: false, pairs: [], lines: ["another"] };
    tablet.happens({ event: "pulled", page, newest: 0 });
    expect(tablet.state.keeping).toEqual({ entry: "rolled_back" });
  });

  it("takes the first page after its cursors went, whatever its epoch is", () => {
    const tablet = tabletWith(0);
    tablet.server.log = ["one", "two", "three"];
    const restore = tablet.server.backup();
    tablet.settle();
    restore();
    tablet.settle();
    const voided = tablet.asked.filter((one) => one.effect === "keep" && one.entry.entry === "rolled_back");
    expect([voided.length, tablet.state.copies.epoch]).toEqual([1, "e1'"]);
  });

  it("shows the newest head it was given with every pull, over a roll-back too", () => {
    const tablet = tabletWith(0);
    tablet.settle();
    const head = { chain: "s", n: 7, hash: "ab", signature: "c" };
    const page = { epoch: "e1", cursor: "0.e1", more: false, pairs: [], lines: [], head };
    tablet.now = tablet.state.pull.due;
    tablet.happens({ event: "tick" });
    tablet.happens({ event: "pulled", page, newest: 0 });
    tablet.happens({ event: "kept", isSafe: true });
    tablet.now = tablet.state.pull.due;
    tablet.happens({ event: "tick" });
    expect(tablet.asked.at(-1)).toMatchObject({ effect: "pull", head });
    tablet.happens({ event: "cursor_void" });
    tablet.happens({ event: "kept", isSafe: true });
    expect(tablet.asked.at(-1)).toMatchObject({ effect: "pull", after: undefined, head });
  });

  it("keeps the old copies until the new ones are whole", () => {
    const tablet = tabletWith(0);
    tablet.server.log = ["one", "two", "three"];
    const restore = tablet.server.backup();
    tablet.settle();
    restore();
    tablet.server.log.push("four", "five");
    const seen: number[] = [];
    for (let round = 0; round < 60; round += 1) {
      if (tablet.isWaiting) tablet.answer("open");
      else tablet.pass();
      const { old, lines } = tablet.state.copies;
      seen.push(new Set([...old, ...lines]).size);
    }
    expect(Math.min(...seen)).toBe(3);
    expect(tablet.state.copies.lines).toEqual(["one", "two", "three", "four", "five"]);
    expect(tablet.state.copies.old).toEqual([]);
  });

  it("calls a pair whole when it came to its end after it was taken up", () => {
    const tablet = tabletWith(0);
    tablet.server.log = ["one", "two", "three"];
    tablet.happens({ event: "taken_up", pair: "b/first" });
    expect(tablet.state.copies.pairs["b/first"]?.whole).toBe(false);
    tablet.settle();
    for (let round = 0; round < 20; round += 1) {
      if (tablet.isWaiting) tablet.answer("open");
      else tablet.pass();
    }
    expect(tablet.state.copies.pairs["b/first"]).toEqual({
      cursor: "3.e1",
      whole: true,
    });
  });

  it("carries a pair that was taken up before the store was read, and keeps that", () => {
    const tablet = tabletWith(0);
    tablet.state = beginning(NOTHING);
    tablet.happens({ event: "taken_up", pair: "b/first" });
    tablet.kept = NOTHING;
    tablet.happens({
      event: "started",
      chain: FIRST_CHAIN,
      base: NOTHING_LEFT,
      own: [],
      former: [],
      copies: NOTHING,
      enclosed: [],
    });
    expect(tablet.kept.pairs).toEqual({ "b/first": { whole: false } });
    expect(tablet.asked.at(-2)).toMatchObject({ effect: "pull", carry: { "b/first": {} } });
  });

  it("renews the session when it ended, and goes on", () => {
    const tablet = tabletWith(0);
    tablet.server.log = ["one"];
    tablet.server.session = false;
    tablet.settle();
    expect(tablet.asked.filter((one) => one.effect === "renew_session")).toHaveLength(1);
    expect(tablet.state.copies.lines).toEqual(["one"]);
  });

  it("asks every five seconds when it is looked at, every minute when it is not", () => {
    const tablet = tabletWith(0);
    tablet.settle();
    const wait = tablet.state.pull.due - tablet.now;
    tablet.happens({ event: "visible", isVisible: false });
    tablet.pass();
    tablet.drain();
    tablet.now = tablet.state.pull.due;
    tablet.happens({ event: "tick" });
    tablet.drain();
    expect(wait).toBeLessThanOrEqual(6000);
    expect(tablet.state.pull.due - tablet.now).toBeGreaterThanOrEqual(48_000);
  });
});

describe("what the server lost", () => {
  const lines = Array.from({ length: 60 }, (_, at) => ({
    chain: "s",
    n: at + 1,
    line: `line ${at}`,
    signature: "x",
    ...(at === 0 ? { file: "f" } : {}),
  }));

  function tabletThatKnows(): ReturnType<typeof tabletWith> {
    const tablet = tabletWith(0);
    tablet.settle();
    tablet.state = {
      ...tablet.state,
      copies: { ...tablet.state.copies, lost: lines, files: { f: "a text" } },
    };
    tablet.happens({ event: "tick" });
    return tablet;
  }

  it("goes back to it, not all at once, with the texts of the files it names", () => {
    const tablet = tabletThatKnows();
    const given = { effect: "give_back", lines: lines.slice(0, 50), texts: ["a text"] };
    expect(tablet.asked.at(-1)).toEqual(given);
    tablet.happens({ event: "tick" });
    expect(tablet.asked.filter((one) => one.effect === "give_back")).toEqual([given]);
  });

  it("is let go when the server answered, and comes again with a pull", () => {
    const tablet = tabletThatKnows();
    const before = tablet.asked.length;
    tablet.happens({ event: "given_back", lines: lines.slice(0, 50) });
    const entry = { entry: "given_back", lines: lines.slice(0, 50).map(({ line }) => line) };
    expect(tablet.asked.slice(before)).toContainEqual({ effect: "keep", entry, isAwaited: false });
    expect(tablet.asked.slice(before).map((one) => one.effect)).toContain("pull");
    expect(tablet.asked.slice(before)).toContainEqual({
      effect: "give_back",
      lines: lines.slice(50),
      texts: [],
    });
    tablet.happens({ event: "given_back", lines: lines.slice(50) });
    expect(tablet.state.copies.lost).toEqual([]);
  });

  it("stays and is given again after a pause when nobody answered", () => {
    const tablet = tabletThatKnows();
    tablet.happens({ event: "not_given_back", why: "no_answer" });
    expect(tablet.state.copies.lost).toEqual(lines);
    expect(tablet.state.giving).toMatchObject({ isUnderWay: false, failures: 1 });
    const before = tablet.asked.length;
    tablet.now = tablet.state.giving.due;
    tablet.happens({ event: "tick" });
    // Fewer at once: what is large may be what the way refuses.
    expect(tablet.asked.slice(before)).toContainEqual({
      effect: "give_back",
      lines: lines.slice(0, 25),
      texts: ["a text"],
    });
  });

  it("waits for a session where the server wants one", () => {
    const tablet = tabletThatKnows();
    tablet.happens({ event: "not_given_back", why: "session" });
    expect(tablet.asked.at(-1)).toEqual({ effect: "renew_session" });
    expect(tablet.state.session).toBe("renewing");
  });
});
