// SPDX-License-Identifier: Apache-2.0
import { afterEach, expect, test } from "vitest";
import { number } from "../../../static/src/words/measures.js";
import { language } from "../../../static/src/words/say.js";

afterEach(() => {
  language.value = "en";
});

test("a number is written as the language writes it that is spoken now, whatever was spoken before", () => {
  expect(number(12_345)).toBe("12,345");
  language.value = "de";
  expect(number(12_345)).toBe("12.345");
  language.value = "en";
  expect(number(12_345)).toBe("12,345");
});
