// SPDX-License-Identifier: Apache-2.0
import { afterEach, expect, test } from "vitest";
import { number } from "../../../static/src/words/measures.js";
import { isLanguage, language, LANGUAGES } from "../../../static/src/words/say.js";

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

test("a whole number below a thousand is its digits in every language there is a catalogue for", () => {
  for (const spoken of Object.keys(LANGUAGES).filter(isLanguage)) {
    language.value = spoken;
    const byTheStandard = new Intl.NumberFormat(spoken);
    for (let value = 0; value <= 1_001; value += 1) expect(number(value)).toBe(byTheStandard.format(value));
    for (const value of [-1, 0.5, 999.5, 1e21]) expect(number(value)).toBe(byTheStandard.format(value));
  }
});
