// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, test } from "vitest";
import { sayError } from "../../../static/src/words/errors.js";
import { age, percent } from "../../../static/src/words/measures.js";
import { inOneLine, inWords, language, languageFrom, say } from "../../../static/src/words/say.js";

afterEach(() => {
  language.value = "en";
});

describe("say", () => {
  test("a number takes the form its language has for it", () => {
    expect(say("batches.pieces", { count: 1 })).toBe("1 piece");
    expect(say("batches.pieces", { count: 1240 })).toBe("1,240 pieces");
    language.value = "de";
    expect(say("batches.pieces", { count: 1240 })).toBe("1.240 Teile");
  });

  test("the first wanted language that is known is taken, else English", () => {
    expect(languageFrom(["pl-PL", "de-AT", "en"])).toBe("de");
    expect(languageFrom(["pl"])).toBe("en");
    expect(languageFrom([])).toBe("en");
  });

  test("a team's words fall back to English where a language lacks them", () => {
    language.value = "de";
    expect(inWords({ en: "Lap", de: "Falte" })).toBe("Falte");
    expect(inWords({ en: "Lap" })).toBe("Lap");
    expect(inWords({ pl: "Zakładka" })).toBe("Zakładka");
  });

  test.each([
    ["Schmiede- riss", "Schmiederiss"],
    ["Code- Stelle", "Code-Stelle"],
    ["Nicht gefüllt", "Nicht gefüllt"],
    ["Cold shut", "Cold shut"],
    ["Gas-Riss", "Gas-Riss"],
  ])("the key word '%s' reads '%s' in one line", (parted, whole) => {
    expect(inOneLine(parted)).toBe(whole);
  });

  test("a code without a sentence of its own is told with the code in it", () => {
    expect(sayError("never-heard")).toContain("never-heard");
    expect(sayError("code-refused")).not.toContain("code-refused");
  });
});

describe("measures", () => {
  test("the whole is written without a decimal, a part with one", () => {
    expect(percent(1)).toBe("100%");
    expect(percent(0.9999)).toBe("100.0%");
    expect(percent(0.5)).toBe("50.0%");
  });

  test("an age is told in minutes, hours, then days", () => {
    expect(age(59_999)).toBe("just now");
    expect(age(31 * 60_000)).toBe("31\u00a0min");
    expect(age(8 * 3_600_000 + 5 * 60_000)).toBe("8\u00a0h\u00a05\u00a0min");
    expect(age(50 * 3_600_000)).toBe("2 days");
  });
});
