// SPDX-License-Identifier: Apache-2.0
import { expect, it } from "vitest";
import { componentWord } from "../../../static/src/records/component_word.js";

it.each([
  ["Rivet", "rivet"],
  ["Öse M6", "ose_m6"],
  ["Großer Niet", "grosser_niet"],
  ["  2nd spring ", "nd_spring"],
  ["Ключ", ""],
])("calls %j %j, wherever it was typed", (typed, word) => {
  expect(componentWord(typed)).toBe(word);
});
