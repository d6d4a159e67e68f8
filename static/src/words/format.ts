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

interface Forms {
  readonly number: Intl.NumberFormat;
  readonly plural: Intl.PluralRules;
}
const known = new Map<string, Forms>();

/** The sentence in a language; values of names that the message does not have are let be. */
export function format(
  message: Message,
  spoken: string,
  values: Readonly<Record<string, string | number>>,
): string {
  let forms = known.get(spoken);
  if (forms === undefined) {
    forms = { number: new Intl.NumberFormat(spoken), plural: new Intl.PluralRules(spoken) };
    known.set(spoken, forms);
  }
  return said(message, forms, values, 0);
}

function said(
  message: Message,
  forms: Forms,
  values: Readonly<Record<string, string | number>>,
  counted: number,
): string {
  return message
    .map((part) => {
      if (typeof part === "string") return part;
      if (part === 0) return forms.number.format(counted);
      const [name, how, cases] = part;
      const value = values[name];
      if (value === undefined) throw new Error(`The message needs '${name}'.`);
      if (how === undefined) return String(value);
      if (how === 0) return forms.number.format(Number(value));
      const found = cases[how === 1 ? forms.plural.select(Number(value)) : value] ?? cases["other"];
      return said(found ?? [], forms, values, how === 1 ? Number(value) : counted);
    })
    .join("");
}
