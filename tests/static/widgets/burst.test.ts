// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { Burst } from "../../../static/src/widgets/burst.js";

/** Type a text and then Enter, with the same time before each key. */
function typed(text: string, gap: number, burst = new Burst(), from = 1000): string | undefined {
  let at = from;
  for (const key of text) {
    burst.key(key, at);
    at += gap;
  }
  return burst.key("Enter", at);
}

describe("a scanner that types", () => {
  test("a fast burst ended by Enter is a text", () => {
    expect(typed("SK70-0501", 8)).toBe("SK70-0501");
  });

  test("a hand is no scanner", () => {
    expect(typed("SK70-0501", 120)).toBeUndefined();
  });

  test("a burst begins anew behind a pause", () => {
    const burst = new Burst();
    burst.key("x", 0);
    expect(typed("SK70-0501", 8, burst)).toBe("SK70-0501");
  });

  test("an Enter that comes late ends no burst, and leaves nothing for the next", () => {
    const burst = new Burst();
    for (const [at, key] of ["S", "K", "7", "0"].entries()) burst.key(key, at);
    expect(burst.key("Enter", 900)).toBeUndefined();
    expect(burst.key("Enter", 905)).toBeUndefined();
  });

  test("Shift between two characters is none", () => {
    const burst = new Burst();
    for (const [at, key] of ["Shift", "S", "Shift", "K", "7"].entries()) burst.key(key, at * 8);
    expect(burst.key("Enter", 45)).toBe("SK7");
  });

  test("one or two keys and Enter are a hand's", () => {
    expect(typed("5", 8)).toBeUndefined();
  });

  test("a key within the burst is known as such, one behind a pause is not", () => {
    const burst = new Burst();
    burst.key("S", 0);
    expect([burst.isRunning(20), burst.isRunning(400)]).toEqual([true, false]);
  });
});
