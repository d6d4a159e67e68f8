// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { systemOf } from "../../../static/src/setup/trust_page.js";

const AGENTS = {
  tablet:
    "Mozilla/5.0 (Linux; Android 14; K) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/150.0.0.0 Safari/537.36",
  apple:
    "Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.0",
  desk: "Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/150.0.0.0",
};

describe("whose steps stand first", () => {
  test("those of the device that opened the page", () => {
    expect([systemOf(AGENTS.tablet, 5), systemOf(AGENTS.desk, 0)]).toEqual(["android", "windows"]);
  });

  test("a desk computer of Apple's that is touched is an iPad", () => {
    expect(systemOf(AGENTS.apple, 5)).toBe("ipad");
    expect(systemOf(AGENTS.apple, 0)).not.toBe("ipad");
  });
});
