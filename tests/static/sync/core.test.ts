// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NOTHING } from "../../../static/src/folds/copies.js";
import { ModelServer, ModelTablet, RECORD_BYTES, type Way } from "./model.js";

const WAYS: readonly [Way, ...Way[]] = [
  "open",
  "lost_request",
  "lost_answer",
  "portal",
  "too_much",
  "busy",
  "cannot_write",
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
  it("hazard_A16_C3 nothing is called confirmed that the server did not hold, and all is confirmed in the end", () => {
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

  it("hazard_D12 another's bytes under our numbers confirm nothing, and all of ours is stored or set aside", () => {
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

  it("a sealed PIN is judged in the end", () => {
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

it("the model's records fit a push", () => {
  expect(500 * RECORD_BYTES).toBeLessThan(1024 * 1024);
  expect(NOTHING.lines).toEqual([]);
});
