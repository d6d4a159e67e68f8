// SPDX-License-Identifier: Apache-2.0
// What is said of checks, at the machine and to the lead alike. What a newer version may store and this one does not
// know is shown as it stands.
import type { CheckRole } from "../records/kinds.js";
import { asRead } from "./measures.js";
import { say, type Key } from "./say.js";

export const ROLE_WORDS = {
  first_off: "check.first_off",
  in_process: "check.in_process",
  last_off: "check.last_off",
} as const satisfies Readonly<Record<CheckRole, Key>>;

/** Why a check was missed. */
export const REASONS = {
  no_gauge: "missed.no_gauge",
  no_time: "missed.no_time",
  not_possible: "missed.not_possible",
  forgotten: "missed.forgotten",
} as const satisfies Readonly<Record<string, Key>>;
export type Reason = keyof typeof REASONS;

/** What can be said of what was done about a check that is out, in the order of how often it is. */
export const DONE = {
  corrected: "reaction.corrected",
  sorted: "reaction.sorted",
  red_tagged: "reaction.red_tagged",
  lead_called: "reaction.lead_called",
} as const satisfies Readonly<Record<string, Key>>;
export type Done = keyof typeof DONE;

const ANSWERS = {
  go: "check.go",
  not_go: "check.not_go",
  yes: "check.yes",
  no: "check.no",
} as const satisfies Readonly<Record<string, Key>>;

/** A word of a record in the present language. */
export function storedWord(words: Readonly<Record<string, Key>>, stored: string): string {
  const key = Object.hasOwn(words, stored) ? words[stored] : undefined;
  return key === undefined ? stored : say(key as "check.go");
}

/** A value with its unit, or an answer. */
export function saidOf(said: string, unit: string): string {
  return Object.hasOwn(ANSWERS, said) ? storedWord(ANSWERS, said) : `${asRead(said)} ${unit}`.trim();
}
