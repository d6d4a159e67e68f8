// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { FIRST_CHAIN, ModelServer, ModelTablet, tabletWith } from "./model.js";
import { syncStateOf } from "../../../static/src/sync/sync_state.js";

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
      mark: { epoch: "e1", n: 2, hash: "another", held: [], exceptions: [], safe: 0 },
    });
    expect(tablet.state.sending.confirmed).toBe(0);
    expect(tablet.state.sending.halted).toBe("forked");
  });

  it("hazard_E6 falls back from confirmed to sent when the server was restored, and sends again", () => {
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

  it("hazard_C6 halves what a way station finds too much, and grows again", () => {
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

  it("says that the server cannot write, goes on recording, and is confirmed once it can", () => {
    const tablet = tabletWith(2);
    const contact = (): string => syncStateOf(tablet.state, () => [], undefined).contact;
    for (let round = 0; round < 40; round += 1) {
      if (tablet.isWaiting) tablet.answer("cannot_write");
      else tablet.pass();
    }
    tablet.save();
    expect(contact()).toBe("cannot_write");
    expect(tablet.pushes.length).toBeGreaterThan(3);
    expect(tablet.state.sending.exceptions).toEqual([]);
    expect(syncStateOf(tablet.state, () => [], undefined).confirmed).toBe(0);
    tablet.settle();
    expect(contact()).toBe("server");
    expect(tablet.state.sending.confirmed).toBe(3);
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
