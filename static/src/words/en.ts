// SPDX-License-Identifier: Apache-2.0
// English: what is said where a tablet tallies. This and en_pages.ts are the list of everything the screens can say;
// the other languages have exactly these keys, in the same files.
// ICU messages; a number goes in as a number, so that its form follows the language.
import { bench } from "./en/bench.js";
import { signOn } from "./en/sign_on.js";
import { start } from "./en/start.js";

export const en = { ...start, ...signOn, ...bench } as const;
