// SPDX-License-Identifier: Apache-2.0
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { beforeFrame, drawBeforeActs } from "../../../static/src/sync/frames.js";

let frame: () => void;

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal("requestAnimationFrame", (then: () => void) => void (frame = then));
});

afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe("a drawing", () => {
  it("waits for the next frame and is done once", () => {
    const draw = vi.fn();
    beforeFrame(draw);
    expect(draw).not.toHaveBeenCalled();
    frame();
    vi.runAllTimers();
    expect(draw).toHaveBeenCalledTimes(1);
  });

  it("is done where no frame comes", () => {
    const draw = vi.fn();
    beforeFrame(draw);
    vi.runAllTimers();
    expect(draw).toHaveBeenCalledTimes(1);
  });

  it("is done before whatever a hand does next, and not again", () => {
    const page = new EventTarget();
    drawBeforeActs(page);
    const order: string[] = [];
    page.addEventListener("keydown", () => order.push("key"));
    beforeFrame(() => order.push("drawn"));
    page.dispatchEvent(new Event("keydown"));
    frame();
    expect(order).toEqual(["drawn", "key"]);
  });

  it("waits while a finger is down: what moves then is not what was pressed", () => {
    const page = new EventTarget();
    drawBeforeActs(page);
    const draw = vi.fn();
    beforeFrame(draw);
    for (const act of ["pointerdown", "focusin", "pointerup"]) page.dispatchEvent(new Event(act));
    expect(draw).not.toHaveBeenCalled();
    page.dispatchEvent(new Event("click"));
    expect(draw).toHaveBeenCalledTimes(1);
  });

  it("waits while a field tells what is typed into it already: what is drawn would take that away", () => {
    const page = new EventTarget();
    drawBeforeActs(page);
    const draw = vi.fn();
    beforeFrame(draw);
    page.dispatchEvent(new Event("input"));
    expect(draw).not.toHaveBeenCalled();
  });
});
