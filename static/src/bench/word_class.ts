// SPDX-License-Identifier: Apache-2.0
// Which classes a word can have on this part, and whether the place on the piece decides between them.
import { classIn } from "../folds/tally.js";
import type { DefectClass, DefectWord, PartDefinition } from "../records/kinds.js";

/** Every class a word can have; one whose class nobody has set is critical. */
export function classesOf(word: DefectWord): ReadonlySet<DefectClass> {
  const classes = new Set((word.by_zone ?? []).map((entry) => entry.class));
  if (word.class !== undefined) classes.add(word.class);
  return classes.size === 0 ? new Set(["critical"]) : classes;
}

/** True when a tap on the word is followed by the question where on the piece. */
export function zoneDecides(word: DefectWord, definition: PartDefinition): boolean {
  const zones = definition.zones ?? [];
  return new Set(zones.map((zone) => classIn(word, zone.zone))).size > 1;
}
