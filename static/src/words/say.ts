// SPDX-License-Identifier: Apache-2.0
// What the screens say, in the language of whoever works here now.
import { signal } from "@preact/signals";
import { IntlMessageFormat } from "intl-messageformat";
import type { en } from "./en.js";

export type Key = keyof typeof en;
export type Values = Readonly<Record<string, string | number>>;
export type Catalogue = Readonly<Record<Key, string>>;

/** Every language by its code, with its own name as it calls itself. */
export const LANGUAGES = { en: "English", de: "Deutsch" } as const;
export type Language = keyof typeof LANGUAGES;

/** A tablet fetches the catalogues it speaks, each once; the service worker has them all beforehand. */
const FETCH: Readonly<Record<Language, () => Promise<Catalogue>>> = {
  en: async () => (await import("./en.js")).en,
  de: async () => (await import("./de.js")).de,
};
const learned = new Map<Language, Catalogue>();

/** Fetch a language's catalogue; nothing is said in a language before it was learned. */
export async function learn(wanted: Language): Promise<void> {
  if (!learned.has(wanted)) learned.set(wanted, await FETCH[wanted]());
}

/** The present language. It lives in the page's address, so nothing about a person is kept in the browser. */
export const language = signal<Language>("en");

const ready = new Map<string, IntlMessageFormat>();

/** A message with a value in it cannot be said without one. */
type Needed<K extends Key> = (typeof en)[K] extends `${string}{${string}` ? [Values] : [Values?];

/** The message in the present language; a screen that calls it is drawn again when the language changes. */
export function say<K extends Key>(key: K, ...[values]: Needed<K>): string {
  const spoken = language.value;
  const message = learned.get(spoken)?.[key] ?? key;
  // In the built app a message with a value in it was taken apart beforehand and is no text any more. One without
  // is said as it stands, even where values are handed over: whoever says errors does not know which take the code.
  const text: unknown = message;
  if (values === undefined || (typeof text === "string" && !text.includes("{"))) return message;
  const name = `${spoken} ${key}`;
  let format = ready.get(name);
  if (format === undefined) {
    format = new IntlMessageFormat(message, spoken);
    ready.set(name, format);
  }
  const said: unknown = format.format(values);
  return String(said);
}

/** The text a team wrote in several languages: the present one, else English, else any. */
export function inWords(translations: Readonly<Record<string, string>>): string {
  return translations[language.value] ?? translations["en"] ?? Object.values(translations)[0] ?? "";
}

/**
 * A key word as it is written in one line. A word that its team parted with a hyphen, to stand on two lines of a
 * key, is one again; before a capital letter the hyphen is a part of it.
 */
export function inOneLine(text: string): string {
  return text.replace(/(?<=\p{L})- (?=\p{Ll})/gu, "").replace(/(?<=\p{L})- /gu, "-");
}

/** The first of the wanted languages that there is a catalogue for. */
export function languageFrom(wanted: readonly string[]): Language {
  for (const tag of wanted) {
    const primary = tag.toLowerCase().split("-")[0] ?? "";
    if (isLanguage(primary)) return primary;
  }
  return "en";
}

export function isLanguage(text: string): text is Language {
  return Object.hasOwn(LANGUAGES, text);
}
