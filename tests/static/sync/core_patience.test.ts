// SPDX-License-Identifier: Apache-2.0
// What wakes the sending, how long it can sleep, and that no wait and no lost answer changes what arrives.
import { describe, expect, it } from "vitest";
import { tabletWith, type ModelTablet, type Way } from "./model.js";

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;

/** Requests have been failing for a while, as without contact. */
function outOfReach(tablet: ModelTablet, rounds: number, chance = 0.5): void {
  for (let round = 0; round < rounds; round += 1) {
    if (tablet.isWaiting) tablet.answer("lost_request", chance);
    else tablet.pass();
  }
  while (tablet.isWaiting) tablet.answer("lost_request", chance);
}

describe("a tablet that was out of reach", () => {
  it("sends what waits as soon as a pull is answered, whatever pause its failed pushes had led to", () => {
    const tablet = tabletWith(2);
    outOfReach(tablet, 40);
    const due = tablet.now + 30_000;
    tablet.state = {
      ...tablet.state,
      send: { ...tablet.state.send, due },
      pull: { ...tablet.state.pull, due: tablet.now },
    };
    tablet.happens({ event: "tick" });
    tablet.drain();
    expect(tablet.server.held.size).toBe(tablet.own.length);
    expect(tablet.now).toBeLessThan(due);
  });

  it.each<[string, (tablet: ModelTablet) => void]>([
    ["at its start", (tablet) => tablet.restart()],
    ["when the browser says that it is online", (tablet) => tablet.happens({ event: "online" })],
    ["when it is looked at", (tablet) => tablet.happens({ event: "visible", isVisible: true })],
    ["behind a record that was saved", (tablet) => tablet.save()],
    [
      "when its time has come",
      (tablet) => {
        tablet.now = tablet.state.send.due;
        tablet.happens({ event: "tick" });
      },
    ],
  ])("hazard_B7_B8 sends what waits %s, and nothing else has to wake it", (_, wake) => {
    const tablet = tabletWith(2);
    outOfReach(tablet, 40);
    expect(tablet.server.held.size).toBe(0);
    const then = tablet.now;
    wake(tablet);
    const { now } = tablet;
    tablet.drain();
    expect(tablet.server.held.size).toBe(tablet.own.length);
    expect(tablet.now).toBe(now);
    expect(now - then).toBeLessThanOrEqual(MINUTE_MS);
  });

  it("hazard_B9 sends everything after a month, and had dropped nothing for its age", () => {
    const tablet = tabletWith(50);
    outOfReach(tablet, 20);
    tablet.now += 30 * DAY_MS;
    outOfReach(tablet, 20);
    tablet.restart();
    outOfReach(tablet, 20);
    tablet.settle();
    expect([...tablet.server.held.values()]).toEqual(tablet.own.map((own) => own.hash));
    expect(tablet.state.sending.confirmed).toBe(50);
  });

  it.each([0, 0.5, 0.999])("hazard_C8 asks again within a minute, by whatever chance (%f)", (chance) => {
    const tablet = tabletWith(1);
    outOfReach(tablet, 200, chance);
    expect(tablet.state.send.failures).toBeGreaterThan(10);
    expect(tablet.state.send.due - tablet.now).toBeLessThanOrEqual(MINUTE_MS);
    expect(tablet.state.pull.due - tablet.now).toBeLessThanOrEqual(MINUTE_MS);
  });
});

it.each([0, 1])(
  "a tablet that can keep nothing asks a server that was put back with patience (%d PINs)",
  (pins) => {
    const tablet = tabletWith(3);
    const restore = tablet.server.backup();
    tablet.settle();
    // It hears of a judgement with a page, so that its PIN goes on travelling.
    for (let pin = 0; pin < pins; pin += 1) tablet.signOn();
    restore();
    tablet.canKeep = false;
    const [before, then] = [tablet.asked.length, tablet.now];
    for (let round = 0; round < 500 && tablet.now < then + 10 * MINUTE_MS; round += 1) {
      if (tablet.isWaiting) tablet.answer("open");
      else tablet.pass();
    }
    const asked = tablet.asked.slice(before).filter(({ effect }) => effect !== "keep").length;
    expect(tablet.now).toBeGreaterThanOrEqual(then + 10 * MINUTE_MS);
    expect(asked).toBeLessThan(100);
  },
);

it("hazard_C3 whose answers are lost three times behind the commit has each record at the server once", () => {
  const tablet = tabletWith(1201);
  const ways: readonly Way[] = ["lost_answer", "lost_answer", "lost_answer", "open"];
  for (let round = 0; round < 400; round += 1) {
    if (tablet.isWaiting) tablet.answer(ways[round % ways.length] ?? "open");
    else tablet.pass();
  }
  tablet.settle();
  expect([...tablet.server.held.values()]).toEqual(tablet.own.map((own) => own.hash));
  expect(tablet.server.aside.size).toBe(0);
  expect(tablet.state.sending.confirmed).toBe(1201);
});
