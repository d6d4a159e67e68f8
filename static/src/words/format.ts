// SPDX-License-Identifier: Apache-2.0
// A message with a value in it, as the build has taken it apart, becomes a sentence.

/**
 * A part of a message: words as they are; `0` for the number whose plural form they stand in; or a value by its
 * name. Behind the name stands how it is written: nothing for a text, `0` for a number, or what stands for it in each
 * case, by its plural form (behind `1`) or by the text it is (behind `2`).
 */
export type Part =
  | string
  | 0
  | readonly [name: string]
  | readonly [name: string, how: 0]
  | readonly [name: string, how: 1 | 2, cases: Readonly<Record<string, Message>>];
export type Message = readonly Part[];

const numbers = new Map<string, Intl.NumberFormat>();
const plurals = new Map<string, Intl.PluralRules>();

/** The format of that name, made when it is asked for first. */
export function kept<Form>(forms: Map<string, Form>, name: string, made: () => Form): Form {
  const form = forms.get(name) ?? made();
  forms.set(name, form);
  return form;
}

/**
 * A number as a language writes it. A whole one below a thousand is its digits in every language there is a catalogue
 * for: the first `Intl.NumberFormat` of a page keeps a tablet a tenth of a second from its first screen.
 */
export function numberIn(spoken: string, value: number): string {
  if (Number.isInteger(value) && value >= 0 && value < 1_000) return String(value);
  return kept(numbers, spoken, () => new Intl.NumberFormat(spoken)).format(value);
}

/** The sentence in a language; values of names that the message does not have are let be. */
export function format(
  message: Message,
  spoken: string,
  values: Readonly<Record<string, string | number>>,
  counted = 0,
): string {
  return message
    .map((part) => {
      if (typeof part === "string") return part;
      if (part === 0) return numberIn(spoken, counted);
      const [name, how, cases] = part;
      const value = values[name];
      if (value === undefined) throw new Error(`The message needs '${name}'.`);
      if (how === undefined) return String(value);
      const amount = Number(value);
      if (how === 0) return numberIn(spoken, amount);
      if (how === 2) return format(cases[value] ?? cases["other"] ?? [], spoken, values, counted);
      const form = kept(plurals, spoken, () => new Intl.PluralRules(spoken)).select(amount);
      return format(cases[form] ?? cases["other"] ?? [], spoken, values, amount);
    })
    .join("");
}
