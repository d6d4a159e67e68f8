// SPDX-License-Identifier: Apache-2.0
// What the screens say, in the language of whoever works here now.
import { signal } from "@preact/signals";
import type { en } from "./en.js";
import type { enPages } from "./en_pages.js";
import { format, type Message } from "./format.js";

type Words = typeof en & typeof enPages;
export type Key = keyof Words;
export type Values = Readonly<Record<string, string | number>>;
/** A text, or in its place the parts of a message with a value in it: the build has taken it apart. */
type Catalogue = Readonly<Partial<Record<Key, string | Message>>>;

/** Every language by its code, with its own name as it calls itself. */
export const LANGUAGES = { en: "English", de: "Deutsch" } as const;
export type Language = keyof typeof LANGUAGES;

/**
 * A catalogue has two halves: what is said where a tablet tallies, and what only pages say that come when somebody
 * opens one. A tablet fetches each once in the languages it speaks; the service worker has all of them beforehand.
 */
export type Half = "tally" | "pages";
const FETCH: Readonly<Record<Language, Readonly<Record<Half, () => Promise<Catalogue>>>>> = {
  en: {
    tally: async () => (await import("./en.js")).en,
    pages: async () => (await import("./en_pages.js")).enPages,
  },
  de: {
    tally: async () => (await import("./de.js")).de,
    pages: async () => (await import("./de_pages.js")).dePages,
  },
};
const learned = new Map<Language, Map<Half, Catalogue>>();
const opened = new Set<Half>(["tally"]);

/** The present language. It lives in the page's address, so nothing about a person is kept in the browser. */
export const language = signal<Language>("en");

/** Fetch what the open pages say in a language; nothing is said in a language before it was learned. */
export async function learn(wanted: Language): Promise<void> {
  const halves = learned.get(wanted) ?? new Map<Half, Catalogue>();
  learned.set(wanted, halves);
  // A half that is opened meanwhile is learned, too.
  for (const half of opened) {
    if (!halves.has(half)) halves.set(half, await FETCH[wanted][half]());
  }
}

/** Fetch what only pages say, before the first of them is drawn; from now on it is learned with every language. */
export async function learnPages(): Promise<void> {
  opened.add("pages");
  // The language may have become another one meanwhile.
  while (learned.get(language.value)?.has("pages") !== true) await learn(language.value);
}

/** A message with a value in it cannot be said without one. */
type Needed<K extends Key> = Words[K] extends `${string}{${string}` ? [Values] : [Values?];

/** The message in the present language; a screen that calls it is drawn again when the language changes. */
export function say<K extends Key>(key: K, ...[values]: Needed<K>): string {
  const spoken = language.value;
  const halves = learned.get(spoken);
  const message = halves?.get("tally")?.[key] ?? halves?.get("pages")?.[key] ?? key;
  // A text is said as it stands, even where values are handed over: whoever says errors does not know which take
  // the code.
  return typeof message === "string" ? message : format(message, spoken, values ?? {});
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
  // Most words have none, and to make the first such pattern costs as much as to draw ten keys.
  if (!text.includes("- ")) return text;
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
