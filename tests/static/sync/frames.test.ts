// SPDX-License-Identifier: Apache-2.0
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { drawBeforeActs, drawn, drawSoon } from "../../../static/src/sync/frames.js";

const frames: (() => void)[] = [];

/** A frame comes; what waits behind it is a task of its own. */
function showFrame(): void {
  for (const then of frames.splice(0)) then();
}

function drawNow(): void {
  vi.advanceTimersByTime(1);
}

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal("requestAnimationFrame", (then: () => void) => void frames.push(then));
});

afterEach(() => {
  showFrame();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe("a drawing", () => {
  it("is a task of its own, and no part of a frame", () => {
    const draw = vi.fn();
    drawSoon(draw);
    expect(draw).not.toHaveBeenCalled();
    drawNow();
    expect(draw).toHaveBeenCalledTimes(1);
    showFrame();
    vi.runAllTimers();
    expect(draw).toHaveBeenCalledTimes(1);
  });

  it("waits until the one before it was shown", () => {
    const order: string[] = [];
    drawSoon(() => order.push("first"));
    drawNow();
    drawSoon(() => order.push("second"));
    drawNow();
    expect(order).toEqual(["first"]);
    showFrame();
    drawNow();
    expect(order).toEqual(["first", "second"]);
  });

  it("waits until a key shows that a finger is on it", () => {
    const page = new EventTarget();
    drawBeforeActs(page);
    const draw = vi.fn();
    page.dispatchEvent(new Event("pointerdown"));
    drawSoon(draw);
    drawNow();
    expect(draw).not.toHaveBeenCalled();
    showFrame();
    drawNow();
    expect(draw).toHaveBeenCalledTimes(1);
  });

  it("is done where no frame comes", () => {
    const draw = vi.fn();
    drawSoon(vi.fn());
    drawNow();
    drawSoon(draw);
    vi.runAllTimers();
    expect(draw).toHaveBeenCalledTimes(1);
  });

  it("is on the screen behind the frame that follows it", async () => {
    const order: string[] = [];
    drawSoon(() => order.push("drawn"));
    const shown = drawn().then(() => order.push("shown"));
    drawNow();
    expect(order).toEqual(["drawn"]);
    showFrame();
    drawNow();
    await shown;
    expect(order).toEqual(["drawn", "shown"]);
  });

  it("is done before whatever a hand does next, and not again", () => {
    const page = new EventTarget();
    drawBeforeActs(page);
    const order: string[] = [];
    page.addEventListener("keydown", () => order.push("key"));
    drawSoon(() => order.push("drawn"));
    page.dispatchEvent(new Event("keydown"));
    vi.runAllTimers();
    expect(order).toEqual(["drawn", "key"]);
  });

  it("waits while a finger is down: what moves then is not what was pressed", () => {
    const page = new EventTarget();
    drawBeforeActs(page);
    const draw = vi.fn();
    drawSoon(draw);
    for (const act of ["pointerdown", "focusin", "pointerup"]) page.dispatchEvent(new Event(act));
    expect(draw).not.toHaveBeenCalled();
    page.dispatchEvent(new Event("click"));
    expect(draw).toHaveBeenCalledTimes(1);
  });

  it("waits while a field tells what is typed into it already: what is drawn would take that away", () => {
    const page = new EventTarget();
    drawBeforeActs(page);
    const draw = vi.fn();
    drawSoon(draw);
    page.dispatchEvent(new Event("input"));
    expect(draw).not.toHaveBeenCalled();
  });
});
