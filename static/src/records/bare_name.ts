// SPDX-License-Identifier: Apache-2.0
// What is left of a name on a label without what people put between its parts, and leave out elsewhere: two ways to
// write it are one. The server's records/bare_name.py is the same function.

export function bareName(text: string): string {
  // Letters beyond ASCII are large and small by other rules in other languages: they stay as they are.
  return text.replace(/[ \t\-./_]/g, "").replace(/[a-z]/g, (letter) => letter.toUpperCase());
}
