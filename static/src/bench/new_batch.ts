// SPDX-License-Identifier: Apache-2.0
// What a batch that begins can be made of.
import type { PartDefinition } from "../records/kinds.js";

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
