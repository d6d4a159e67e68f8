// SPDX-License-Identifier: Apache-2.0
// How many looks each family of defects had in each zone: a look counts where it could have seen them.
//
// The server's folds/coverage.py is the same function; tests/vectors/bench holds both to the same answers.
import type { DefectWord, PartDefinition } from "../records/kinds.js";
import type { Ledger } from "./ledger.js";
import type { Look } from "./look.js";

/**
 * A family of defects in a zone ('' is the piece as a whole).
 *
 * looks    complete looks that could see every word of the family there
 * unknown  complete looks of which nobody wrote down behind which operation they stand
 */
export interface Coverage {
  readonly family: string;
  readonly zone: string;
  readonly looks: readonly string[];
  readonly unknown: readonly string[];
}

/** Fold the complete looks of a batch; families and zones in the order of the definition. */
export function foldCoverage(
  definition: PartDefinition,
  ledger: Ledger,
  looks: readonly Look[],
): readonly Coverage[] {
  const operations = new Map(ledger.looks.map(({ look, operation }) => [look, operation]));
  const complete = looks.filter(({ points }) => points.length === 0).map(({ look }) => look);
  const families = new Map<string, DefectWord[]>();
  for (const word of definition.defects) {
    const family = word.family ?? word.defect;
    families.set(family, [...(families.get(family) ?? []), word]);
  }
  const zones = [{ zone: "", covered_after: 0 }, ...(definition.zones ?? [])];
  return [...families].flatMap(([family, words]) =>
    zones.map(({ zone, covered_after = 0 }) => {
      const of = (seen: "yes" | "unknown"): string[] =>
        complete.filter((look) => sees(words, covered_after, operations.get(look) ?? 0) === seen);
      return { family, zone, looks: of("yes"), unknown: of("unknown") };
    }),
  );
}

/** Whether a look behind an operation sees all the words in a zone that is covered after another one. */
function sees(
  words: readonly DefectWord[],
  coveredAfter: number,
  operation: number,
): "yes" | "no" | "unknown" {
  if (words.some((word) => word.seen_by_eye === "no")) return "no";
  const first = words.flatMap((word) => word.first_seen_at ?? []);
  if (operation === 0) return first.length > 0 || coveredAfter > 0 ? "unknown" : "yes";
  if (coveredAfter > 0 && operation > coveredAfter) return "no";
  return first.every((one) => operation >= one) ? "yes" : "no";
}
