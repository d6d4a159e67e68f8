// SPDX-License-Identifier: Apache-2.0
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { idleLimit, watchIdle } from "../../../static/src/shell/idle_lock.js";

const LIMIT = 60_000;

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

function watched(): { page: EventTarget; locks: () => number; stop: () => void } {
  const page = new EventTarget();
  let locks = 0;
  const stop = watchIdle(page, LIMIT, () => {
    locks += 1;
  });
  return { page, locks: () => locks, stop };
}

function touch(page: EventTarget): boolean {
  return page.dispatchEvent(new Event("pointerdown", { cancelable: true }));
}

describe("a tablet nobody touches", () => {
  it("locks after its time, and not before", () => {
    const { locks } = watched();
    vi.advanceTimersByTime(LIMIT - 1);
    expect(locks()).toBe(0);
    vi.advanceTimersByTime(1);
    expect(locks()).toBe(1);
  });

  it("stays open while somebody taps", () => {
    const { page, locks } = watched();
    for (let tap = 0; tap < 5; tap += 1) {
      vi.advanceTimersByTime(LIMIT - 1);
      expect(touch(page)).toBe(true);
    }
    expect(locks()).toBe(0);
  });

  it("that slept past its time locks at the first touch, which does nothing else", () => {
    const { page, locks } = watched();
    let reached = 0;
    page.addEventListener("pointerdown", () => {
      reached += 1;
    });
    vi.setSystemTime(Date.now() + LIMIT);
    expect(touch(page)).toBe(false);
    expect([locks(), reached]).toEqual([1, 0]);
  });

  it("is watched no more once somebody said stop", () => {
    const { page, locks, stop } = watched();
    stop();
    vi.advanceTimersByTime(2 * LIMIT);
    touch(page);
    expect(locks()).toBe(0);
  });
});

it("a tablet of somebody who decides locks sooner than one of the bench", () => {
  for (const role of ["lead", "administrator", "reader"]) {
    expect(idleLimit(["inspector", role])).toBeLessThan(idleLimit(["inspector", "operator"]));
  }
});
