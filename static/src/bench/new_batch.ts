// SPDX-License-Identifier: Apache-2.0
// What a batch that begins can be made of, and whether its number stands on another card already.
import type { PartDefinition } from "../records/kinds.js";
import type { BatchLine } from "../sync/contract.js";

export interface NewestPart {
  /** The id of the publication. */
  readonly definition: string;
  readonly part: PartDefinition;
}

/** Each part with what was published of it last; by the part's name. */
export function newestParts(definitions: ReadonlyMap<string, PartDefinition>): readonly NewestPart[] {
  const found = new Map<string, NewestPart>();
  for (const [definition, part] of definitions) found.set(part.part, { definition, part });
  return [...found.values()].sort((left, right) => (left.part.part < right.part.part ? -1 : 1));
}

/** A batch with the same number, blanks and case aside: two of them are shown as such, and never made one. */
export function sameNumber(batches: readonly BatchLine[], number: string): BatchLine | undefined {
  const wanted = bare(number);
  return wanted === "" ? undefined : batches.find((line) => bare(line.number) === wanted);
}

function bare(text: string): string {
  return text.replace(/\s/g, "").toUpperCase();
}
