// SPDX-License-Identifier: Apache-2.0
// The one-time code as it is typed: its characters, and what a hasty finger means by others.

/** No I, L, O, U: nothing that reads as a digit or as another letter. */
export const CODE_CHARACTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
export const CODE_LENGTH = 8;

const MEANT: Readonly<Record<string, string>> = { I: "1", L: "1", O: "0" };

/** Only characters of a code, the look-alikes put right, no longer than a code is. */
export function cleanCode(typed: string): string {
  return Array.from(typed.toUpperCase())
    .map((character) => MEANT[character] ?? character)
    .filter((character) => CODE_CHARACTERS.includes(character))
    .join("")
    .slice(0, CODE_LENGTH);
}

/** In two halves, as it stands on the administrator's screen. */
export function inHalves(code: string): string {
  const half = CODE_LENGTH / 2;
  return code.length > half ? `${code.slice(0, half)} ${code.slice(half)}` : code;
}
