// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { CODE_CHARACTERS, CODE_LENGTH, cleanCode, inHalves } from "../../../static/src/setup/code_entry.js";

const codes = fc
  .array(fc.constantFrom(...CODE_CHARACTERS.split("")), {
    minLength: CODE_LENGTH,
    maxLength: CODE_LENGTH,
  })
  .map((letters) => letters.join(""));

describe("a typed code", () => {
  test("is the same with small letters, blanks and dashes", () => {
    fc.assert(
      fc.property(codes, (code) => {
        expect(cleanCode(` ${code.slice(0, 4).toLowerCase()}-${code.slice(4)} `)).toBe(code);
      }),
    );
  });

  test("takes look-alikes for what they stand for", () => {
    expect(cleanCode("il0o")).toBe("1100");
  });

  test("is never longer than a code and holds nothing else", () => {
    fc.assert(
      fc.property(fc.string(), (typed) => {
        const clean = cleanCode(typed);
        expect(clean.length).toBeLessThanOrEqual(CODE_LENGTH);
        expect(clean.split("").every((letter) => CODE_CHARACTERS.includes(letter))).toBe(true);
      }),
    );
  });

  test("is shown in halves and read back the same", () => {
    fc.assert(
      fc.property(codes, (code) => {
        expect(cleanCode(inHalves(code))).toBe(code);
      }),
    );
  });
});
