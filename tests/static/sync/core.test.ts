// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NOTHING } from "../../../static/src/folds/copies.js";
import { beginning } from "../../../static/src/sync/core.js";
import { syncStateOf } from "../../../static/src/sync/sync_state.js";
import { FIRST_CHAIN, ModelServer, ModelTablet, RECORD_BYTES, type Way } from "./model.js";

function tabletWith(records: number): ModelTablet {
  const tablet = new ModelTablet(new ModelServer());
  for (let n = 0; n < records; n += 1) tablet.save();
  return tablet;
}

describe("pushing", () => {
  it("asks for the mark before it pushes anything", () => {
    const tablet = tabletWith(3);
    expect(tablet.asked.filter((one) => one.effect !== "pull" && one.effect !== "list_batches")).toEqual([
      { effect: "ask_mark", chain: FIRST_CHAIN, enclosures: [] },
    ]);
  });

  it("sends the oldest first, 500 lines at most", () => {
    const tablet = tabletWith(1201);
    tablet.settle();
    expect(tablet.pushes).toEqual([
      { first: 1, last: 500 },
      { first: 501, last: 1000 },
      { first: 1001, last: 1201 },
    ]);
  });

  it("sends 1 MiB at most", () => {
    const tablet = new ModelTablet(new ModelServer());
    for (let n = 1; n <= 100; n += 1) {
      const own = { hash: `h${n}`, previous: n === 1 ? "" : `h${n - 1}`, bytes: 16 * 1024 };
      tablet.own.push(own);
      tablet.happens({ event: "saved", own });
    }
    tablet.settle();
    const [first] = tablet.pushes;
    expect(((first?.last ?? 0) + 1) * (16 * 1024 + 1)).toBeGreaterThan(1024 * 1024 - 32 * 1024);
    expect((first?.last ?? 0) * (16 * 1024 + 1)).toBeLessThan(1024 * 1024);
    expect(tablet.state.sending.confirmed).toBe(100);
  });

  it("confirms only what the mark covers with our own hash", () => {
    const tablet = tabletWith(2);
    tablet.happens({
      event: "marked",
      mark: { epoch: "e1", n: 2, hash: "another", held: [], exceptions: [] },
    });
    expect(tablet.state.sending.confirmed).toBe(0);
    expect(tablet.state.sending.halted).toBe("forked");
  });

  it("falls back from confirmed to sent when the server was restored, and sends again", () => {
    const tablet = tabletWith(4);
    const restore = tablet.server.backup();
    tablet.settle();
    restore();
    tablet.happens({ event: "marked", mark: tablet.server.mark() });
    expect([tablet.state.sending.confirmed, tablet.state.sending.reached]).toEqual([0, 4]);
    tablet.settle();
    expect(tablet.server.held.size).toBe(4);
  });

  it("finds out that the server was restored though it had fetched nothing before", () => {
    const tablet = tabletWith(1);
    const restore = tablet.server.backup();
    for (let round = 0; round < 4; round += 1) tablet.answer("open");
    expect(tablet.state.sending.confirmed).toBe(1);
    while (tablet.isWaiting) tablet.answer("portal");
    restore();
    tablet.settle();
    expect([...tablet.server.held.values()]).toEqual(["h1"]);
  });

  it("halves what a way station finds too much, and grows again", () => {
    const tablet = tabletWith(1000);
    tablet.most = 100;
    tablet.settle(8000);
    expect(tablet.state.sending.confirmed).toBe(1000);
    const sizes = tablet.pushes.map(({ first, last }) => last - first + 1);
    expect(sizes.slice(0, 4)).toEqual([500, 250, 125, 62]);
    expect(Math.max(...sizes.slice(4))).toBeGreaterThan(62);
  });

  it("halves at once on a 413 of the server", () => {
    const tablet = tabletWith(8);
    tablet.answer("open");
    while (tablet.pushes.length === 0) tablet.answer("too_much");
    const then = tablet.now;
    for (let round = 0; round < 9; round += 1) tablet.answer("open");
    expect(tablet.now).toBe(then);
    expect(tablet.pushes.slice(0, 2)).toEqual([
      { first: 1, last: 8 },
      { first: 1, last: 4 },
    ]);
  });

  it("does not send less because there is no network", () => {
    const tablet = tabletWith(8);
    for (let round = 0; round < 60; round += 1) {
      if (tablet.isWaiting) tablet.answer("lost_request");
      else tablet.pass();
    }
    tablet.settle();
    expect(tablet.pushes).toEqual([{ first: 1, last: 8 }]);
  });

  it("does not step over a record because the server is busy", () => {
    const tablet = tabletWith(1);
    for (let round = 0; round < 40; round += 1) {
      if (tablet.isWaiting) tablet.answer("busy");
      else tablet.pass();
    }
    expect(tablet.state.sending.exceptions).toEqual([]);
    tablet.settle();
    expect(tablet.state.sending.confirmed).toBe(1);
  });

  it("steps over a single record that only the way refuses, shows it, and tries it again later", () => {
    const tablet = tabletWith(40);
    tablet.poison.add(7);
    for (let round = 0; round < 400 && tablet.server.held.size < 39; round += 1) {
      if (tablet.isWaiting) tablet.answer("open");
      else tablet.pass();
      expect(tablet.state.sending.exceptions.filter(({ n }) => n !== 7)).toEqual([]);
    }
    expect(tablet.server.held.size).toBe(39);
    expect(tablet.state.sending.confirmed).toBe(6);
    expect(tablet.state.sending.exceptions).toEqual([{ n: 7, code: "not-let-through" }]);
    tablet.poison.clear();
    tablet.settle();
    expect(tablet.state.sending.confirmed).toBe(40);
    expect(tablet.state.sending.exceptions).toEqual([]);
  });

  it("waits longer after each failure, and tries at once when a record was saved", () => {
    const tablet = tabletWith(1);
    const tries: number[] = [];
    for (let round = 0; round < 12; round += 1) {
      tablet.answer("lost_request");
      tablet.answer("lost_request");
      tablet.pass();
    }
    const due = tablet.state.send.due;
    expect(due - tablet.now).toBeGreaterThan(4000);
    tries.push(due);
    tablet.save();
    expect(tablet.state.underWay ?? tablet.state.send.due).not.toBe(due);
  });

  it("shows what the server set aside, with its code, over a restart", () => {
    const tablet = tabletWith(2);
    const mark = {
      ...tablet.server.mark(),
      exceptions: [{ n: 1, code: "not-yours" }],
    };
    tablet.happens({ event: "marked", mark });
    tablet.restart();
    expect(tablet.state.sending.exceptions).toEqual([{ n: 1, code: "not-yours" }]);
  });

  it("knows after a restart what was confirmed, unless its own bytes are others", () => {
    const tablet = tabletWith(3);
    tablet.settle();
    tablet.restart();
    expect(tablet.state.sending.confirmed).toBe(3);
    tablet.own = tablet.own.map((own) => ({
      ...own,
      hash: `other ${own.hash}`,
    }));
    tablet.restart();
    expect(tablet.state.sending.confirmed).toBe(0);
  });
});

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

describe("a sealed PIN", () => {
  function enclosuresOf(tablet: ModelTablet): (readonly string[])[] {
    return tablet.asked.flatMap((one) => ("enclosures" in one ? [one.enclosures] : []));
  }

  it("travels with the push that covers its sign-on, and with none before", () => {
    const tablet = tabletWith(600);
    tablet.signOn();
    tablet.settle();
    expect(enclosuresOf(tablet).slice(0, 3)).toEqual([[], [], [`${FIRST_CHAIN}:601`]]);
    expect(tablet.server.judged).toEqual(new Set([`${FIRST_CHAIN}:601`]));
  });

  it("travels again with later pushes until it was judged, and then no more", () => {
    const tablet = tabletWith(1);
    tablet.server.isBusy = true;
    tablet.signOn();
    tablet.settle();
    tablet.save();
    tablet.settle();
    expect(enclosuresOf(tablet).at(-1)).toEqual([`${FIRST_CHAIN}:2`]);
    tablet.server.isBusy = false;
    tablet.save();
    tablet.settle();
    tablet.hear();
    const before = tablet.asked.length;
    tablet.save();
    tablet.settle();
    expect(tablet.forgotten).toEqual([`${FIRST_CHAIN}:2`]);
    expect(
      tablet.asked.slice(before).filter((one) => "enclosures" in one && one.enclosures.length > 0),
    ).toEqual([]);
  });

  it("is sent with a bare question when its record is confirmed already, less often each time", () => {
    const tablet = tabletWith(1);
    tablet.server.isBusy = true;
    tablet.signOn();
    tablet.settle();
    const pushes = tablet.pushes.length;
    const times: number[] = [];
    for (let round = 0; round < 200; round += 1) {
      const before = tablet.server.came.get(`${FIRST_CHAIN}:2`) ?? 0;
      if (tablet.isWaiting) tablet.answer("open");
      else tablet.pass();
      if ((tablet.server.came.get(`${FIRST_CHAIN}:2`) ?? 0) > before) times.push(tablet.now);
    }
    expect(times.length).toBeGreaterThan(3);
    expect(tablet.pushes.length).toBe(pushes);
    const pauses = times.slice(1).map((time, at) => time - (times[at] ?? 0));
    expect(pauses.slice(1).every((pause, at) => pause >= Math.min(60_000, pauses[at] ?? 0))).toBe(true);
  });

  it("makes the tablet fetch at once after it travelled", () => {
    const tablet = tabletWith(1);
    tablet.settle();
    tablet.signOn();
    const pulls = (): number => tablet.asked.filter((one) => one.effect === "pull").length;
    const before = pulls();
    const then = tablet.now;
    tablet.settle();
    expect([tablet.now, pulls()]).toEqual([then, before + 1]);
  });

  it("travels after a restart, too", () => {
    const tablet = tabletWith(1);
    tablet.signOn();
    tablet.restart();
    tablet.settle();
    expect(tablet.server.judged).toEqual(new Set([`${FIRST_CHAIN}:2`]));
  });

  it("of a chain that was left travels with its sign-on, and is forgotten when the server has answered", () => {
    const tablet = tabletWith(2);
    tablet.server.held.set(1, "h1").set(2, "another");
    tablet.signOn();
    tablet.settle();
    expect(tablet.server.came.get(`${FIRST_CHAIN}:3`)).toBe(1);
    expect(tablet.forgotten).toEqual([`${FIRST_CHAIN}:3`]);
  });

  it("is judged in the end, whatever the way does before", () => {
    fc.assert(
      fc.property(fc.array(action, { maxLength: 80 }), fc.nat({ max: 80 }), (actions, place) => {
        const world = new World();
        actions.forEach((one, at) => {
          if (at === place) world.tablet.signOn();
          world.do(one);
        });
        world.tablet.signOn();
        world.tablet.poison.clear();
        world.tablet.settle();
        world.tablet.happens({ event: "online" });
        for (let round = 0; round < 20; round += 1) world.tablet.answer("open");
        world.tablet.hear();
        const { enclosed } = world.tablet.state;
        expect(enclosed).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });
});

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
    tablet.happens({ event: "pulled", page });
    expect(tablet.asked.slice(before).map((one) => one.effect)).toContain("ask_mark");
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

const WAYS: readonly [Way, ...Way[]] = [
  "open",
  "lost_request",
  "lost_answer",
  "portal",
  "too_much",
  "busy",
  "twice",
];
const action = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      act: fc.constant("answer" as const),
      way: fc.constantFrom(...WAYS),
    }),
  },
  { weight: 4, arbitrary: fc.record({ act: fc.constant("save" as const) }) },
  { weight: 4, arbitrary: fc.record({ act: fc.constant("pass" as const) }) },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("restart" as const) }) },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("back_up" as const) }) },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("restore" as const) }) },
  {
    weight: 1,
    arbitrary: fc.record({
      act: fc.constant("poison" as const),
      n: fc.integer({ min: 1, max: 20 }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("others" as const) }) },
  {
    weight: 1,
    arbitrary: fc.record({ act: fc.constant("session_ends" as const) }),
  },
  { weight: 1, arbitrary: fc.record({ act: fc.constant("online" as const) }) },
);
type Action = typeof action extends fc.Arbitrary<infer A> ? A : never;

class World {
  constructor(
    readonly server = new ModelServer(),
    readonly tablet = new ModelTablet(server),
  ) {}
  /** Every (n, hash) the server ever held: a mark given before a restore was true when it was given. */
  readonly everHeld = new Set<string>();
  #restore: (() => void) | undefined;

  /** The tablet's lines that the server has neither stored nor set aside. */
  missing(): unknown[] {
    return this.tablet.lines().filter(({ chain, n, hash }) => !this.server.has(chain, n, hash));
  }

  do(one: Action): void {
    switch (one.act) {
      case "answer":
        this.tablet.answer(one.way);
        break;
      case "save":
        this.tablet.save();
        break;
      case "pass":
        this.tablet.pass();
        break;
      case "restart":
        this.tablet.restart();
        break;
      case "back_up":
        this.#restore = this.server.backup();
        break;
      case "restore":
        this.#restore?.();
        break;
      case "poison":
        this.tablet.poison.add(one.n);
        break;
      case "others":
        this.server.log.push(`line ${this.server.log.length} of ${this.server.epoch}`);
        break;
      case "session_ends":
        this.server.session = false;
        break;
      case "online":
        this.tablet.happens({ event: "online" });
        break;
    }
    for (const [n, hash] of this.server.held) this.everHeld.add(`${n} ${hash}`);
  }
}

describe("whatever the way and the server do", () => {
  it("nothing is called confirmed that the server did not hold, and all is confirmed in the end", () => {
    fc.assert(
      fc.property(fc.array(action, { maxLength: 150 }), (actions) => {
        const world = new World();
        for (const one of actions) {
          world.do(one);
          expect(world.tablet.state.copies.cursor).toBe(world.tablet.kept.cursor);
          const { confirmed } = world.tablet.state.sending;
          for (let n = 1; n <= confirmed; n += 1) {
            expect(world.everHeld).toContain(`${n} ${world.tablet.own[n - 1]?.hash ?? ""}`);
          }
        }
        world.tablet.poison.clear();
        world.tablet.settle();
        expect(world.tablet.state.sending.confirmed).toBe(world.tablet.own.length);
        expect([...world.server.held.values()].sort()).toEqual(
          world.tablet.own.map((own) => own.hash).sort(),
        );
        expect(new Set(world.tablet.state.copies.lines)).toEqual(new Set(world.server.log));
      }),
      { numRuns: 400 },
    );
  });

  it("another's bytes under our numbers confirm nothing, and all of ours is stored or set aside", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10 }),
        fc.array(action, { maxLength: 60 }),
        (forkedAt, actions) => {
          const world = new World();
          for (let n = 1; n <= 10; n += 1) world.tablet.save();
          for (let n = 1; n <= forkedAt; n += 1) world.server.held.set(n, n < forkedAt ? `h${n}` : "another");
          for (const one of actions.filter((other) => other.act !== "restore")) world.do(one);
          world.tablet.poison.clear();
          world.tablet.settle();
          expect(world.server.held.get(forkedAt)).toBe("another");
          expect(world.missing()).toEqual([]);
        },
      ),
      { numRuns: 200 },
    );
  });

  it("of a profile that was copied and goes on on both sides, nothing is lost, and both go on", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 6 }),
        fc.boolean(),
        fc.array(fc.tuple(fc.boolean(), action), { maxLength: 120 }),
        (before, isSettled, actions) => {
          const world = new World();
          for (let n = 1; n <= before; n += 1) world.tablet.save();
          if (isSettled) world.tablet.settle();
          const clone = new World(world.server, world.tablet.clone("clone "));
          const { exceptions } = world.tablet.state.sending;
          expect(exceptions).toEqual([]);
          for (const [isClone, one] of actions) (isClone ? clone : world).do(one);
          for (const one of [world, clone]) {
            one.tablet.poison.clear();
            one.tablet.save();
          }
          // What one of them sends may be news to the other, so both take turns.
          for (let round = 0; round < 4; round += 1) {
            for (const one of [world, clone]) {
              one.tablet.happens({ event: "online" });
              one.tablet.settle();
            }
          }
          expect([...world.missing(), ...clone.missing()]).toEqual([]);
          for (const { tablet } of [world, clone]) {
            expect(tablet.isSettled).toBe(true);
            tablet.save();
            tablet.settle();
            expect(tablet.state.sending.confirmed).toBe(tablet.own.length);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it("one request to send and one pull are under way at most", () => {
    fc.assert(
      fc.property(fc.array(action, { maxLength: 100 }), (actions) => {
        const world = new World();
        for (const one of actions) {
          const before = world.tablet.asked.length;
          world.do(one);
          const asked = world.tablet.asked.slice(before).map((effect) => effect.effect);
          expect(asked.filter((effect) => effect === "push" || effect === "ask_mark").length).toBeLessThan(2);
          expect(asked.filter((effect) => effect === "pull").length).toBeLessThan(2);
        }
      }),
    );
  });
});

it("the model's records fit a push", () => {
  expect(500 * RECORD_BYTES).toBeLessThan(1024 * 1024);
  expect(NOTHING.lines).toEqual([]);
});
