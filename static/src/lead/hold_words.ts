// SPDX-License-Identifier: Apache-2.0
// A hold and a query in words: what caused it, on which piece, in which tray, found by whom.
import { keyOf } from "../folds/check_outcome.js";
import type { PartDefinition } from "../records/kinds.js";
import { lookName } from "../words/looks.js";
import { inOneLine, inWords, say, type Key } from "../words/say.js";
import type { HoldLine, PlaceLine } from "./holds_list.js";

/** The team's word in the reader's language, from the newest list that has it. */
export function defectName(defect: string, definitions: ReadonlyMap<string, PartDefinition>): string {
  const lists = [...definitions.values()].reverse();
  const found = lists.flatMap((list) => list.defects).find((entry) => entry.defect === defect);
  return found === undefined ? defect : inOneLine(inWords(found.key));
}

const CLASSES = {
  critical: "tally.class.critical",
  major: "tally.class.major",
  minor: "tally.class.minor",
} as const satisfies Readonly<Record<string, Key>>;

/** The name of a class; one that is not known here is called by its own word. */
export function className(of: string): string {
  return Object.hasOwn(CLASSES, of) ? say(CLASSES[of as keyof typeof CLASSES]) : of;
}

export function causeOf(line: HoldLine, definitions: ReadonlyMap<string, PartDefinition>): string {
  const { cause, said } = line;
  if (cause === "critical") return say("holds.critical", { word: defectName(said, definitions) });
  if (cause === "found") return said === "" ? say("holds.found") : say("holds.found_at", { where: said });
  if (cause === "limit") {
    return said === "" ? say("holds.limit") : say("holds.limit_of", { class: className(said) });
  }
  if (cause === "check") return say("holds.check", { check: checkName(said, definitions) });
  if (cause === "early") return say("holds.early", { cast: said });
  if (cause === "metal") return say("holds.metal", { cast: said });
  if (cause === "gauge") return say("holds.gauge", { gauge: said });
  return say("holds.placed", { why: said });
}

/** The team's words for a check, called by operation and number, from the newest list that has it. */
function checkName(said: string, definitions: ReadonlyMap<string, PartDefinition>): string {
  const lists = [...definitions.values()].reverse();
  const found = lists.flatMap((list) => list.characteristics ?? []).find((one) => keyOf(one) === said);
  return found === undefined ? said : inWords(found.words);
}

/** Piece, tray, and who found it or said stop, as far as the server named them. */
export function placeOf({
  tag,
  number,
  finder,
  look,
  cause,
}: PlaceLine & { readonly cause?: string }): string {
  const who = cause === "placed" ? "holds.placer" : "holds.finder";
  const parts = [
    look === "" ? "" : lookName(look),
    tag ? say("holds.piece", { tag }) : "",
    number ? say("tally.tray", { number }) : "",
    finder ? say(who, { name: finder }) : "",
  ];
  return parts.filter((part) => part !== "").join(", ");
}
