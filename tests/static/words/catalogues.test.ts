// SPDX-License-Identifier: Apache-2.0
import { parse, TYPE, type MessageFormatElement } from "@formatjs/icu-messageformat-parser";
import { describe, expect, test } from "vitest";
import { IntlMessageFormat } from "intl-messageformat";
import { de } from "../../../static/src/words/de.js";
import { dePages } from "../../../static/src/words/de_pages.js";
import { en } from "../../../static/src/words/en.js";
import { enPages } from "../../../static/src/words/en_pages.js";
import { format, type Message } from "../../../static/src/words/format.js";
import { LANGUAGES, type Key, type Language } from "../../../static/src/words/say.js";

/** As the app has them: taken apart where a value stands in them. */
const READY = { en: { ...en, ...enPages }, de: { ...de, ...dePages } } as const;

/** As they are written, file by file. */
const written = import.meta.glob<Readonly<Record<string, Readonly<Record<string, string>>>>>(
  "../../../static/src/words/*/*.ts",
  { eager: true, query: "?as_written" },
);
const files = Object.entries(written).map(([path, module]) => {
  const [, language = "", room = ""] = /words\/(\w+)\/(\w+)\.ts/.exec(path) ?? [];
  return { language, room, words: Object.values(module)[0] ?? {} };
});
const CATALOGUES = Object.fromEntries(
  Object.keys(READY).map((language) => [
    language,
    Object.assign(
      {},
      ...files.filter((one) => one.language === language).map(({ words }) => words),
    ) as Readonly<Record<Key, string>>,
  ]),
) as Readonly<Record<Language, Readonly<Record<Key, string>>>>;

const sources = import.meta.glob<string>("../../../static/src/**/*.{ts,tsx}", {
  eager: true,
  query: "?raw",
  import: "default",
});
const spoken = Object.entries(sources)
  .filter(([path]) => !/\/words\/[a-z]{2}\//.test(path))
  .map(([, text]) => text)
  .join("\n");

const languages = Object.keys(LANGUAGES) as Language[];
const keys = Object.keys(CATALOGUES.en) as Key[];
const messages = languages.flatMap((language) =>
  keys.map((key) => [language, key, CATALOGUES[language][key]] as const),
);

/** Names of the values a message takes, and the plural forms it offers for each. */
function takes(elements: readonly MessageFormatElement[]): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const element of elements) {
    if (element.type === TYPE.literal || element.type === TYPE.pound) continue;
    if (element.type === TYPE.tag) continue;
    const forms = element.type === TYPE.plural ? Object.keys(element.options) : [];
    found.set(element.value, [...(found.get(element.value) ?? []), ...forms]);
  }
  return found;
}

/** A value for everything a message takes: a number, or a word that it knows. */
function valuesFor(
  elements: readonly MessageFormatElement[],
  count: number,
): Record<string, string | number> {
  const values: Record<string, string | number> = {};
  for (const element of elements) {
    if (element.type === TYPE.literal || element.type === TYPE.pound || element.type === TYPE.tag) continue;
    if (element.type === TYPE.plural || element.type === TYPE.select) {
      for (const { value } of Object.values(element.options)) Object.assign(values, valuesFor(value, count));
    }
    if (element.type === TYPE.select) {
      const cases = Object.keys(element.options);
      values[element.value] = cases[Math.trunc(count) % cases.length] ?? "";
    } else values[element.value] ??= element.type === TYPE.argument ? `<${element.value}>` : count;
  }
  return values;
}

describe("catalogues", () => {
  test("every file is a part of its language, and no key stands in two of them", () => {
    for (const language of languages) {
      const own = files.filter((one) => one.language === language);
      const all = own.flatMap(({ words }) => Object.keys(words)).sort();
      expect(all).toEqual(Object.keys(READY[language]).sort());
      expect(own.map(({ room, words }) => [room, Object.keys(words).sort()])).toEqual(
        files
          .filter((one) => one.language === "en")
          .map(({ room, words }) => [room, Object.keys(words).sort()]),
      );
    }
  });

  test("a message taken apart says what the formatting library says of it", () => {
    for (const [language, key, message] of messages.filter(([, , text]) => text.includes("{"))) {
      const ready = READY[language][key] as unknown as Message;
      const judge = new IntlMessageFormat(message, language);
      for (const count of [0, 1, 2, 3, 1.5, 21, 1_240, 1_234_567]) {
        const values = valuesFor(parse(message), count);
        expect(format(ready, language, values), `${language} ${key}`).toBe(judge.format(values));
      }
    }
  });

  test("a message that misses its value is no sentence", () => {
    expect(() => format([["count", 0]], "en", {})).toThrow("count");
  });

  test.each(languages)("%s has exactly the keys of the list", (language) => {
    expect(Object.keys(CATALOGUES[language]).sort()).toEqual([...keys].sort());
  });

  test("every key is said by some screen", () => {
    const unsaid = keys.filter((key) => !spoken.includes(`"${key}"`));
    expect(unsaid).toEqual([]);
  });

  test("a message takes the same values in every language", () => {
    for (const [language, key, message] of messages) {
      const here = [...takes(parse(message)).keys()].sort();
      const there = [...takes(parse(CATALOGUES.en[key])).keys()].sort();
      expect(here, `${language} ${key}`).toEqual(there);
    }
  });

  test("a plural offers every form its language has", () => {
    for (const [language, key, message] of messages) {
      const forms = new Intl.PluralRules(language).resolvedOptions().pluralCategories;
      for (const offered of takes(parse(message)).values()) {
        if (offered.length === 0) continue;
        expect(offered.sort(), `${language} ${key}`).toEqual([...forms].sort());
      }
    }
  });

  test("no message blames, begs or shrugs", () => {
    const unwanted =
      /\b(invalid|oops|please|sorry|illegal|failed|error|ungültig|hoppla|bitte|leider|fehlgeschlagen)\b/i;
    expect(messages.filter(([, , message]) => unwanted.test(message))).toEqual([]);
  });

  test("nothing is left empty or untrimmed", () => {
    expect(messages.filter(([, , text]) => text === "" || text.trim() !== text)).toEqual([]);
  });
});
