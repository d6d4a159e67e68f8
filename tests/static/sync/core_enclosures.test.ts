// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { FIRST_CHAIN, ModelTablet, tabletWith } from "./model.js";

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
});
