// SPDX-License-Identifier: Apache-2.0

/** The word by which records call what somebody named: small letters, digits and _; '' where nothing of that is left. */
export function componentWord(typed: string): string {
  const word = typed
    .normalize("NFKD")
    .toLowerCase()
    .replace(/ß/g, "ss")
    .replace(/\p{M}/gu, "")
    .replace(/[^a-z0-9]+/g, "_")
    .replace(/^[^a-z]+|_+$/g, "");
  return word.slice(0, 64);
}
