// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { erfc, piecesFromMass } from "../../../static/src/machine/weigh_count.js";

describe("pieces by weight", () => {
  it("are wrong as often as worked out by hand", () => {
    // The same case as tests/published/test_material_published.py: 50 pieces weigh 3550 g, 14200 g are 200 pieces;
    // cv 0.4 %: sd = 0.004 sqrt(200 + 800) = 0.1265, and 2 Phi(-0.5 / 0.1265) = 2 Phi(-3.953) = 7.7e-5.
    const found = piecesFromMass(14200, 3550, 50, 0.004);
    expect(found.pieces).toBe(200);
    expect(found.sd).toBeCloseTo(0.126491, 6);
    expect(found.chanceWrong / 7.7e-5).toBeCloseTo(1, 2);
  });

  it("have an error function as the handbook prints it", () => {
    // Abramowitz and Stegun, Handbook of Mathematical Functions (1964), table 7.1: erf 0.5, 1 and 2; from memory.
    expect(1 - erfc(0.5)).toBeCloseTo(0.5204998778, 9);
    expect(1 - erfc(1)).toBeCloseTo(0.8427007929, 9);
    expect(1 - erfc(2)).toBeCloseTo(0.995322265, 9);
  });

  it("have one error function where its two ways meet", () => {
    expect(erfc(2.5 - 1e-12) / erfc(2.5)).toBeCloseTo(1, 9);
  });

  it("are surer on a tray than on a batch", () => {
    const tray = piecesFromMass(40 * 80.3, 20 * 80.3, 20, 0.01);
    const batch = piecesFromMass(700 * 80.3, 20 * 80.3, 20, 0.01);
    expect([tray.pieces, batch.pieces]).toEqual([40, 700]);
    expect(tray.chanceWrong).toBeLessThan(0.001);
    expect(batch.chanceWrong).toBeGreaterThan(0.5);
  });

  it("go to the even neighbour at a half", () => {
    expect([2.5, 3.5, 3.4, 3.6].map((net) => piecesFromMass(net, 1, 1, 0).pieces)).toEqual([2, 4, 3, 4]);
  });
});
