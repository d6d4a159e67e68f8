// SPDX-License-Identifier: Apache-2.0
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonical } from "../../../static/src/records/canonical.js";
import { RefusedRecord } from "../../../static/src/records/refused.js";
import { isWellFormed, utf8Bytes, utf8Length } from "../../../static/src/records/utf8.js";

function codeOf(value: unknown): string {
  try {
    canonical(value);
    return "written";
  } catch (problem) {
    if (problem instanceof RefusedRecord) return problem.code;
    throw problem;
  }
}

describe("the canonical text", () => {
  it("sorts members, leaves no blanks and leaves out what is not given", () => {
    expect(canonical({ b: 1, a: [true, "x"], c: undefined })).toBe('{"a":[true,"x"],"b":1}');
  });

  it("writes control characters in the short form where there is one", () => {
    expect(canonical({ a: "\b\t\n\f\r\u0001\u001f\u007f\u2028" })).toBe(
      '{"a":"\\b\\t\\n\\f\\r\\u0001\\u001f\u007f\u2028"}',
    );
  });

  it("writes minus nought as nought", () => {
    expect(canonical({ a: -0 })).toBe('{"a":0}');
  });

  it.each([
    ["null", { a: null }],
    ["a number with a point", { a: 1.5 }],
    ["an integer beyond 2^53 - 1", { a: 2 ** 53 }],
    ["no number", { a: Number.NaN }],
    ["U+0000", { a: "x\u0000" }],
    ["a member name with a capital", { A: 1 }],
    ["a member name that is not ASCII", { größe: 1 }],
    ["undefined in a list", { a: [undefined] }],
    ["a function", { a: () => 1 }],
  ])("refuses %s", (_, value) => {
    expect(codeOf(value)).toBe("not-canonical");
  });

  it.each(["\ud800", "\udc00", "a\udc00\ud800", "\ud83d"])(
    "refuses half of a surrogate pair (%j)",
    (text) => {
      expect(codeOf({ a: text })).toBe("unreadable");
    },
  );

  it("reads back as what was written", () => {
    const value = fc.letrec<{ value: unknown }>((tie) => ({
      value: fc.oneof(
        { maxDepth: 4 },
        fc.string({ unit: "grapheme" }).filter((text) => !text.includes("\u0000")),
        fc.boolean(),
        fc.integer(),
        fc.array(tie("value"), { maxLength: 4 }),
        fc.dictionary(fc.stringMatching(/^[a-z][a-z0-9_]{0,5}$/), tie("value"), { maxKeys: 4 }),
      ),
    })).value;
    fc.assert(
      fc.property(value, (one) => {
        const written = canonical(one);
        expect(canonical(JSON.parse(written))).toBe(written);
      }),
    );
  });
});

describe("UTF-8", () => {
  it("gives the bytes the platform gives", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        expect(Array.from(utf8Bytes(text))).toEqual(Array.from(new TextEncoder().encode(text)));
        expect(utf8Length(text)).toBe(new TextEncoder().encode(text).length);
      }),
    );
  });

  it("finds each half of a pair that stands alone", () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom("a", "\ud800", "\udbff", "\udc00", "\udfff", "é")), (units) => {
        const text = units.join("");
        expect(isWellFormed(text)).toBe(!/\p{Surrogate}/u.test(text));
      }),
    );
  });
});
