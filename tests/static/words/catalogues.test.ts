// SPDX-License-Identifier: Apache-2.0
import { parse, TYPE, type MessageFormatElement } from "@formatjs/icu-messageformat-parser";
import { describe, expect, test } from "vitest";
import { de } from "../../../static/src/words/de.js";
import { en } from "../../../static/src/words/en.js";
import { LANGUAGES, type Key, type Language } from "../../../static/src/words/say.js";

const CATALOGUES = { en, de } as const;

const sources = import.meta.glob<string>("../../../static/src/**/*.{ts,tsx}", {
  eager: true,
  query: "?raw",
  import: "default",
});
const spoken = Object.entries(sources)
  .filter(([path]) => !/\/words\/(en|de)\.ts$/.test(path))
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

describe("catalogues", () => {
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
