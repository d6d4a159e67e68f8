// SPDX-License-Identifier: Apache-2.0
// Photos behind the records: never before one, from where the server holds them to, smaller where the way cuts,
// and on the tablet until a verified copy has them.
import { describe, expect, it } from "vitest";
import { NOTHING } from "../../../static/src/folds/copies.js";
import {
  beginning,
  dueNext,
  step,
  type CoreEvent,
  type CoreState,
  type Effect,
  type Mark,
} from "../../../static/src/sync/core.js";
import { nextStretch } from "../../../static/src/sync/outbox.js";
import { Chance } from "../records/chance.js";
import { syncStateOf } from "../../../static/src/sync/sync_state.js";

const PART = 256 * 1024;
const CHAIN = "c1";
type Untimed = CoreEvent extends infer E ? (E extends CoreEvent ? Omit<E, "now" | "chance"> : never) : never;
type Fault = "none" | "lost_request" | "lost_answer" | "too_long";

/** A core whose every request is answered by a server in memory, over a way with faults. */
class Desk {
  now = 0;
  records = 1;
  confirmed = 0;
  safe = 0;
  epoch = "e";
  /** The bytes the server holds of each photo; whole where they are its size. */
  held = new Map<string, number>();
  dropped: string[] = [];
  done: string[] = [];
  most = Infinity;
  refuses = new Set<string>();
  state: CoreState;
  waiting: Effect[] = [];

  constructor(readonly photos: { file: string; size: number }[]) {
    this.state = beginning(NOTHING);
    this.say({
      event: "started",
      chain: CHAIN,
      base: { n: 0, hash: "" },
      own: [{ hash: "h1", bytes: 500 }],
      former: [],
      copies: NOTHING,
      enclosed: [],
      photos,
    });
  }

  say(event: Untimed): void {
    const { state, effects } = step(this.state, { ...event, now: this.now, chance: 0.5 });
    this.state = state;
    this.waiting.push(...effects);
    // No record waits that could be sent now.
    if (effects.some((one) => one.effect === "send_photo")) {
      expect(nextStretch(state.sending, this.now)).toBeUndefined();
      expect(state.underWay).toBeUndefined();
    }
  }

  mark(): void {
    this.records += 1;
    this.say({ event: "saved", own: { hash: `h${this.records}`, bytes: 500 } });
  }

  /** One request, or time on to the next that is due. */
  turn(fault: Fault = "none"): void {
    const effect = this.waiting.shift();
    if (effect === undefined) {
      this.now = Math.ceil(
        Math.max(this.now + 1, Math.min(dueNext(this.state, this.now), this.now + 60_000)),
      );
      this.say({ event: "tick" });
      return;
    }
    this.answer(effect, fault);
  }

  run(turns: number): this {
    for (let turn = 0; turn < turns; turn += 1) this.turn();
    return this;
  }

  sizeOf(file: string): number {
    return this.photos.find((one) => one.file === file)?.size ?? 0;
  }

  private answer(effect: Effect, fault: Fault): void {
    const isLost = fault === "lost_request" || fault === "lost_answer";
    switch (effect.effect) {
      case "push":
      case "ask_mark":
        if (fault === "lost_request") return this.say({ event: "send_failed", why: "no_answer" });
        if (effect.effect === "push") this.confirmed = Math.max(this.confirmed, effect.last);
        if (isLost) return this.say({ event: "send_failed", why: "no_answer" });
        return this.say({ event: "marked", mark: this.markNow() });
      case "pull":
        return this.say({ event: "pull_failed", why: "busy" });
      case "list_batches":
        return this.say({ event: "list_failed", why: "busy" });
      case "drop_photo":
        this.dropped.push(effect.file);
        return;
      case "ask_photo":
      case "send_photo":
        return this.photo(effect, fault);
      default:
        return;
    }
  }

  private photo(effect: Effect & { effect: "ask_photo" | "send_photo" }, fault: Fault): void {
    const { file } = effect;
    this.done.push(effect.effect);
    if (fault === "lost_request") return this.say({ event: "photo_failed", file, why: "no_answer" });
    if (effect.effect === "send_photo") {
      const length = Math.min(effect.length, this.sizeOf(file) - effect.offset);
      if (length > this.most || fault === "too_long")
        return this.say({ event: "photo_failed", file, why: "too_much" });
      if (this.refuses.has(file)) return this.say({ event: "photo_failed", file, why: "file_refused" });
      const held = this.held.get(file) ?? 0;
      if (effect.offset === held) this.held.set(file, held + length);
    }
    if (fault === "lost_answer") return this.say({ event: "photo_failed", file, why: "no_answer" });
    const held = this.held.get(file) ?? 0;
    const isWhole = held === this.sizeOf(file);
    this.say({ event: "photo_heard", file, held, isWhole, isSafe: isWhole && this.safe === this.records });
  }

  private markNow(): Mark {
    const n = this.confirmed;
    return { epoch: this.epoch, n, hash: n === 0 ? "" : `h${n}`, held: [], exceptions: [], safe: this.safe };
  }
}

const three = (): Desk => new Desk(["a", "b", "c"].map((file, at) => ({ file, size: PART * at + 1000 })));

function states(desk: Desk): string[] {
  return desk.state.photos.map((one) => one.state);
}

describe("photos on their way", () => {
  it("wake nobody while a record waits for its own time", () => {
    const desk = three();
    while (desk.waiting.length > 0) desk.turn();
    desk.waiting = [];
    desk.mark();
    expect(desk.waiting.map((one) => one.effect)).toEqual(["push"]);
    desk.waiting = [];
    desk.say({ event: "send_failed", why: "busy" });
    expect(desk.waiting).toEqual([]);
    expect(dueNext(desk.state, desk.now)).toBeGreaterThan(desk.now);
  });

  it("say that the server cannot write, and go on from the same part once it can", () => {
    const desk = three();
    const contact = (): string => syncStateOf(desk.state, () => [], undefined).contact;
    while (desk.waiting.every((one) => one.effect !== "send_photo")) desk.turn();
    desk.waiting = [];
    desk.say({ event: "photo_failed", file: "a", why: "cannot_write" });
    expect(contact()).toBe("cannot_write");
    expect(states(desk)[0]).toBe("waiting");
    desk.run(60);
    expect(states(desk)).toEqual(["held", "held", "held"]);
    expect(contact()).toBe("server");
  });

  it("are asked for first and then sent from where the server holds them to", () => {
    const desk = three();
    desk.held.set("c", PART);
    desk.run(60);
    expect(states(desk)).toEqual(["held", "held", "held"]);
    expect(desk.held).toEqual(
      new Map([
        ["a", 1000],
        ["b", PART + 1000],
        ["c", 2 * PART + 1000],
      ]),
    );
    // a: asked, one part. b: asked, two. c: asked, two of three.
    expect(desk.done.filter((one) => one === "send_photo")).toHaveLength(5);
  });

  it("wait for every record, those made in between too", () => {
    const desk = three();
    for (let turn = 0; turn < 200; turn += 1) {
      if (turn % 3 === 0 && turn < 100) desk.mark();
      desk.turn();
    }
    expect(states(desk)).toEqual(["held", "held", "held"]);
  });

  it("are halved where the way lets no more through, and grow again behind it", () => {
    const desk = new Desk([{ file: "a", size: 4 * PART }]);
    desk.most = 20_000;
    desk.run(60);
    expect(desk.state.partBytes).toBeLessThanOrEqual(20_000 * 2);
    desk.most = Infinity;
    desk.run(400);
    expect(states(desk)).toEqual(["held"]);
    expect(desk.state.partBytes).toBe(PART);
  });

  it("leave when a verified copy has them, which is asked for when there is a newer one", () => {
    const desk = three().run(60);
    expect(desk.dropped).toEqual([]);
    const asked = desk.done.length;
    desk.run(40);
    expect(desk.done).toHaveLength(asked);
    desk.mark();
    desk.run(20);
    desk.safe = desk.records;
    desk.mark();
    desk.safe = desk.records;
    desk.run(60);
    expect(desk.dropped).toEqual(["a", "b", "c"]);
    expect(desk.state.photos).toEqual([]);
  });

  it("leave without a copy only where another finds no room, and none that was not sent", () => {
    const desk = three().run(60);
    desk.say({ event: "photo_kept", file: "d", size: 10 });
    desk.say({ event: "room_needed" });
    expect(desk.waiting.filter((one) => one.effect === "drop_photo").map((one) => one.file)).toEqual([
      "a",
      "b",
      "c",
    ]);
    expect(desk.state.photos.map((one) => one.file)).toEqual(["d"]);
  });

  it("are sent anew to a server that was put back to an older copy", () => {
    const desk = three().run(60);
    desk.held.clear();
    desk.epoch = "e2";
    desk.mark();
    desk.run(80);
    expect(states(desk)).toEqual(["held", "held", "held"]);
    expect(desk.held.get("c")).toBe(2 * PART + 1000);
  });

  it("keep no other waiting where one is refused", () => {
    const desk = three();
    desk.refuses.add("a");
    desk.run(60);
    expect(states(desk)).toEqual(["refused", "held", "held"]);
    desk.mark();
    desk.run(40);
    expect(desk.confirmed).toBe(desk.records);
  });

  it("renew the session once where it ended, and go on", () => {
    const desk = three().run(3);
    desk.say({ event: "photo_failed", file: "a", why: "session" });
    expect(desk.waiting.filter((one) => one.effect === "renew_session")).toHaveLength(1);
    desk.say({ event: "renewed" });
    desk.run(60);
    expect(states(desk)).toEqual(["held", "held", "held"]);
  });

  it("are begun anew when other bytes came, and given up after the third time", () => {
    const desk = new Desk([{ file: "a", size: 1000 }]);
    for (let time = 0; time < 3; time += 1) {
      desk.run(4);
      desk.say({ event: "photo_failed", file: "a", why: "broken" });
    }
    expect(states(desk)).toEqual(["refused"]);
  });

  it("all arrive whole over a way that loses, cuts and repeats, whatever is marked meanwhile", () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const chance = new Chance(seed);
      const desk = new Desk(
        Array.from({ length: 6 }, (_, at) => ({ file: `f${at}`, size: chance.whole(1, 5 * PART) })),
      );
      for (let turn = 0; turn < 300; turn += 1) {
        if (chance.whole(1, 9) === 1) desk.mark();
        desk.turn(chance.one("none", "none", "lost_request", "lost_answer", "too_long"));
      }
      desk.run(2_000);
      expect(states(desk), `seed ${seed}`).toEqual(Array.from({ length: 6 }, () => "held"));
      for (const { file, size } of desk.photos) expect(desk.held.get(file)).toBe(size);
      expect(desk.confirmed).toBe(desk.records);
    }
  });
});
