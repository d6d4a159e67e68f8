// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { NOTHING } from "../../../static/src/folds/copies.js";
import { beginning } from "../../../static/src/sync/core.js";
import { NOTHING_LEFT } from "../../../static/src/sync/outbox.js";
import { syncStateOf } from "../../../static/src/sync/sync_state.js";
import { FIRST_CHAIN, tabletWith } from "./model.js";

describe("a chain that the server knows otherwise", () => {
  it("is followed by a new one when the server knows more of it than the tablet", () => {
    const tablet = tabletWith(2);
    tablet.server.held = new Map([1, 2, 3, 4, 5].map((n) => [n, `h${n}`]));
    tablet.settle();
    expect(tablet.asked).toContainEqual({ effect: "open_chain", why: "behind" });
    expect([...tablet.server.heldOf("c2")]).toEqual([[1, "c2 h1"]]);
    expect(tablet.server.aside.size).toBe(0);
  });

  it("is followed by a new one when other bytes stand in it, and what it has not sent is offered", () => {
    const tablet = tabletWith(3);
    tablet.server.held.set(1, "h1").set(2, "another");
    tablet.settle();
    expect(tablet.asked).toContainEqual({ effect: "open_chain", why: "forked" });
    expect(tablet.lines().filter(({ chain, n, hash }) => !tablet.server.has(chain, n, hash))).toEqual([]);
    expect(tablet.server.held.get(2)).toBe("another");
    expect(tablet.state.former.map((one) => one.exceptions)).toEqual([
      [2, 3].map((n) => ({ n, code: "number-taken" })),
    ]);
  });

  it("takes no more records while the new one is being opened, and the next belong to that", () => {
    const tablet = tabletWith(1);
    tablet.server.held.set(1, "another");
    tablet.settle();
    tablet.save();
    tablet.settle();
    expect(tablet.server.heldOf("c2").size).toBe(2);
    expect(tablet.server.held.size).toBe(1);
  });

  it("is left though the server's mark is ours, when a clone's records stand behind our end", () => {
    const tablet = tabletWith(2);
    tablet.settle();
    tablet.server.held.set(4, "a clone's");
    tablet.save();
    tablet.settle();
    expect(tablet.state.former).toHaveLength(1);
    expect(tablet.lines().filter(({ chain, n, hash }) => !tablet.server.has(chain, n, hash))).toEqual([]);
  });

  it("is left when a line of ours has no place before a clone's", () => {
    const tablet = tabletWith(2);
    tablet.settle();
    for (let n = 3; n <= 5; n += 1) tablet.save();
    tablet.server.push(FIRST_CHAIN, 4, [{ hash: "clone 4", previous: "clone 3", bytes: 1 }]);
    tablet.settle();
    expect(tablet.asked).toContainEqual({ effect: "open_chain", why: "forked" });
    expect(tablet.isSettled).toBe(true);
    expect(tablet.lines().filter(({ chain, n, hash }) => !tablet.server.has(chain, n, hash))).toEqual([]);
  });

  it("is left at a start when a clone's records stand behind our end, before anything more is recorded", () => {
    const tablet = tabletWith(2);
    tablet.settle();
    tablet.server.push(FIRST_CHAIN, 4, [{ hash: "clone 4", previous: "clone 3", bytes: 1 }]);
    tablet.restart();
    while (tablet.isWaiting) tablet.answer("open");
    expect(tablet.asked).toContainEqual({ effect: "open_chain", why: "behind" });
  });

  it("is offered from its beginning again when the server was restored between two pushes of it", () => {
    const tablet = tabletWith(700);
    tablet.server.held.set(1, "another");
    const restore = tablet.server.backup();
    while (tablet.server.aside.size === 0) {
      if (tablet.isWaiting) tablet.answer("open");
      else tablet.pass();
    }
    restore();
    const first = tablet.asked.length;
    tablet.answerSends();
    expect(tablet.asked.slice(first).length).toBeGreaterThan(0);
    tablet.settle();
    expect(tablet.lines().filter(({ chain, n, hash }) => !tablet.server.has(chain, n, hash))).toEqual([]);
  });

  it("makes the tablet fetch everything anew, and keep its copies until that is whole", () => {
    const tablet = tabletWith(2);
    tablet.server.log = ["one", "two", "three"];
    tablet.settle();
    tablet.server.held.set(2, "another");
    tablet.happens({ event: "online" });
    tablet.save();
    const before = tablet.asked.length;
    tablet.settle();
    expect(tablet.asked.slice(before)).toContainEqual({
      effect: "keep",
      entry: { entry: "rolled_back" },
      isAwaited: true,
    });
    expect(new Set(tablet.state.copies.lines)).toEqual(new Set(["one", "two", "three"]));
  });

  it("makes a tablet that begins another chain at a start fetch anew what that one wrote", () => {
    const tablet = tabletWith(2);
    tablet.server.log = ["one"];
    tablet.settle();
    const { copies } = tablet.state;
    const begin = (chain: string, kept = copies): boolean => {
      tablet.state = beginning(NOTHING);
      const started = { event: "started", chain, base: NOTHING_LEFT, own: [], former: [] } as const;
      tablet.happens({ ...started, copies: kept, enclosed: [] });
      return tablet.state.keeping?.entry === "rolled_back";
    };
    expect(copies.cursor).toBeDefined();
    expect(begin(FIRST_CHAIN)).toBe(false);
    expect(begin("of another key")).toBe(true);
    // A process that was killed behind the new chain's first confirmation had not begun to.
    const confirmed = { chain: "of another key", n: 1, hash: "h", exceptions: [] };
    expect(begin("of another key", { ...copies, confirmed })).toBe(true);
  });

  it("is not offered again after a restart once the server answered for it", () => {
    const tablet = tabletWith(3);
    tablet.server.held.set(2, "another").set(1, "h1");
    tablet.settle();
    tablet.restart();
    const before = tablet.pushes.length;
    tablet.settle();
    expect(tablet.pushes.length).toBe(before);
    expect(tablet.state.former.map(({ confirmed, exceptions }) => [confirmed, exceptions.length])).toEqual([
      [3, 2],
    ]);
  });

  it("is offered again to a server that was restored", () => {
    const tablet = tabletWith(3);
    tablet.server.held.set(1, "h1").set(2, "another");
    const restore = tablet.server.backup();
    tablet.settle();
    restore();
    tablet.settle();
    expect(tablet.lines().filter(({ chain, n, hash }) => !tablet.server.has(chain, n, hash))).toEqual([]);
  });

  it("is offered again, over a restart, when the server has lost what it had answered for", () => {
    const tablet = tabletWith(3);
    tablet.server.held.set(1, "h1").set(2, "another");
    const restore = tablet.server.backup();
    tablet.settle();
    restore("unnoticed");
    tablet.happens({ event: "online" });
    for (let round = 0; round < 100 && tablet.state.former[0]?.confirmed !== 0; round += 1) {
      if (tablet.isWaiting) tablet.answer("open");
      else tablet.pass();
    }
    tablet.restart();
    tablet.settle();
    expect(tablet.lines().filter(({ chain, n, hash }) => !tablet.server.has(chain, n, hash))).toEqual([]);
  });

  it("is not called held up by the way once its key is lost: nobody tries the way with it again", () => {
    const tablet = tabletWith(3);
    tablet.former = [{ chain: "lost", own: [...tablet.own], isSendable: false }];
    tablet.chain = "c2";
    tablet.own = [];
    const exceptions = ["not-let-through", "number-taken"].map((code, at) => ({ n: at + 1, code }));
    tablet.kept = { ...tablet.kept, former: { lost: { n: 0, held: [], exceptions } } };
    tablet.restart();
    expect(tablet.state.former[0]?.exceptions).toEqual([{ n: 2, code: "number-taken" }]);
  });

  it("is not sent when its key is lost, and its records stay counted as not confirmed", () => {
    const tablet = tabletWith(3);
    tablet.answer("open");
    tablet.answer("lost_request");
    tablet.former = [{ chain: "lost", own: [...tablet.own], isSendable: false }];
    tablet.chain = "c2";
    tablet.own = [];
    tablet.restart();
    tablet.save();
    tablet.settle();
    expect(tablet.server.heldOf("lost").size).toBe(0);
    const { stored, confirmed, oldestAt } = syncStateOf(tablet.state, () => [], undefined);
    expect([stored, confirmed, oldestAt]).toEqual([3, 1, Infinity]);
  });

  it("keeps what was confirmed of it before its key was lost", () => {
    const tablet = tabletWith(3);
    tablet.settle();
    tablet.save();
    tablet.former = [{ chain: FIRST_CHAIN, own: [...tablet.own], isSendable: false }];
    tablet.chain = "c2";
    tablet.own = [];
    tablet.restart();
    tablet.save();
    tablet.settle();
    tablet.restart();
    expect(tablet.state.former[0]?.confirmed).toBe(3);
  });
});
