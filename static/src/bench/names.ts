// SPDX-License-Identifier: Apache-2.0
// What a word and a zone are called on the screens.
import { NOT_SURE, type PartDefinition } from "../records/kinds.js";
import { inOneLine, inWords, say } from "../words/say.js";

/** What a defect is called, in one line. */
export function wordOf(definition: PartDefinition | undefined, defect: string): string {
  if (defect === NOT_SURE) return say("tally.not_sure");
  const word = definition?.defects.find((entry) => entry.defect === defect);
  return word === undefined ? defect : inOneLine(inWords(word.key));
}

export function zoneName(definition: PartDefinition | undefined, zone: string): string {
  const found = definition?.zones?.find((entry) => entry.zone === zone);
  return found === undefined ? zone : inWords(found.words);
}

/** A verdict that somebody gave. */
export function judgedWord(verdict: string): string {
  return verdict === "rework" ? say("verdict.rework") : say("verdict.accept");
}

/** Names in a row, the last one after "or". */
export function oneOf(names: readonly string[]): string {
  const last = names.at(-1) ?? "";
  if (names.length < 2) return last;
  return say("tally.or", { names: names.slice(0, -1).join(", "), last });
}
