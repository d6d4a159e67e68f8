// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, test } from "vitest";
import type { LimitNumbers } from "../../../static/src/lead/batch_answer.js";
import { numbersOf } from "../../../static/src/lead/limit_part.js";
import { language } from "../../../static/src/words/say.js";

const LINE: LimitNumbers = {
  look: "first",
  class: "major",
  allowed_per_thousand: 20,
  defective: 2,
  with_queries: 2,
  marked: 2,
  looked: 120,
  due: 180,
  trays_closed: 2,
  state: "within",
  state_with_queries: "within",
  allowed: 3,
  chance_over: 0.125,
  rate: 0.0167,
  lower: 0.003,
  upper: 0.0515,
};

afterEach(() => {
  language.value = "en";
});

describe("the numbers behind a limit", () => {
  test("are how many are still allowed, the rate with its range, and the chance to end above", () => {
    expect(numbersOf(LINE)).toEqual([
      "2 pieces found, 3 allowed in this batch (20 of 1000): 1 still allowed.",
      "Rate of what was looked at: 1.7%. The process behind it: from 0.3% to 5.2%, each end with 95 % confidence.",
      "Chance that the batch ends above: 12.5%.",
    ]);
  });

  test("above the limit it is said how far, and no chance is left to tell", () => {
    const sentences = numbersOf({ ...LINE, marked: 5, state: "broken", chance_over: 1 });
    expect(sentences[0]).toBe("5 pieces found, 3 allowed in this batch (20 of 1000): 2 above.");
    expect(sentences.join(" ")).not.toContain("Chance");
  });

  test("a look that ended has nothing left to allow", () => {
    const sentences = numbersOf({ ...LINE, looked: 180, state: "met", chance_over: 0 });
    expect(sentences[0]).toBe("2 pieces found, 3 allowed in this batch (20 of 1000).");
    expect(sentences.join(" ")).not.toContain("Chance");
  });

  test("open queries are counted as if each were of the class, in a sentence of their own", () => {
    const sentences = numbersOf({ ...LINE, with_queries: 4, state_with_queries: "broken" });
    expect(sentences).toContain("Were every open query of this class, it would be 4: above already.");
  });

  test("nothing is worked out for a batch nobody counted in", () => {
    const { look, class: of, allowed_per_thousand, defective, with_queries, marked } = LINE;
    const { looked, due, trays_closed } = LINE;
    const bare: LimitNumbers = {
      ...{
        look,
        class: of,
        allowed_per_thousand,
        defective,
        with_queries,
        marked,
        looked,
        due,
        trays_closed,
      },
      state: "uncounted",
      state_with_queries: "uncounted",
    };
    expect(numbersOf(bare)).toEqual(["2 pieces found; the limit is 20 of 1000."]);
  });

  test("German writes them with a decimal comma", () => {
    language.value = "de";
    expect(numbersOf(LINE).join(" ")).toContain("1,7\u00a0%");
  });
});
