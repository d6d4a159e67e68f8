// SPDX-License-Identifier: Apache-2.0
import { beforeEach, describe, expect, it, vi } from "vitest";
import { keepPedal, mayBePedal, pedalKeys } from "../../../static/src/widgets/pedal.js";

const kept = new Map<string, string>();
vi.stubGlobal("localStorage", {
  getItem: (name: string) => kept.get(name) ?? null,
  setItem: (name: string, value: string) => kept.set(name, value),
});

describe("the key a pedal sends", () => {
  beforeEach(() => kept.clear());

  it("does one thing at the tally and one at a machine", () => {
    keepPedal("undo", "F13");
    expect(keepPedal("store", "F13")).toEqual({ undo: "F13", store: "F13" });
  });

  it("is given up by another act of the same place", () => {
    keepPedal("undo", "F13");
    expect(keepPedal("tray_end", "F13")).toEqual({ tray_end: "F13" });
  });

  it("is taken off again", () => {
    keepPedal("undo", "F13");
    expect(keepPedal("undo", undefined)).toEqual({});
  });

  it("is none that numbers are typed with or that a hand moves about with", () => {
    expect(["1", ",", "-", "Tab", "Shift", "Backspace"].some(mayBePedal)).toBe(false);
    expect(["F13", "PageDown", "b", " ", "Enter"].every(mayBePedal)).toBe(true);
  });

  it("is none where what is kept cannot be read", () => {
    kept.set("tallywright-pedal", "{");
    expect(pedalKeys()).toEqual({});
  });
});
