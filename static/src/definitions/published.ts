// SPDX-License-Identifier: Apache-2.0
// What people judge by, read out of the tablet's records: definitions by the id of their publication.
import type { PartDefinition, ReadRecord, ShiftDefinition } from "../records/kinds.js";

/** Part definitions by id; a version never changes, so a record is judged by the one it names. */
export function partDefinitions(records: Iterable<ReadRecord>): ReadonlyMap<string, PartDefinition> {
  const found = new Map<string, PartDefinition>();
  for (const { id, known } of records) {
    if (known?.kind !== "definition_published") continue;
    const { content } = known.body;
    if (content.subject === "part") found.set(id, content);
  }
  return found;
}

/** Shift definitions by id. */
export function shiftDefinitions(records: Iterable<ReadRecord>): ReadonlyMap<string, ShiftDefinition> {
  const found = new Map<string, ShiftDefinition>();
  for (const { id, known } of records) {
    if (known?.kind !== "definition_published") continue;
    const { content } = known.body;
    if (content.subject === "shifts") found.set(id, content);
  }
  return found;
}
