// SPDX-License-Identifier: Apache-2.0
// What people judge by, read out of the tablet's records: definitions by the id of their publication.
import { partDefinition } from "../records/definition_forms.js";
import type { MaterialDefinition, PartDefinition, ReadRecord, ShiftDefinition } from "../records/kinds.js";

/**
 * Part definitions by id; a version never changes, so a record is judged by the one it names.
 *
 * files   texts of the files that hold the large ones, by name; one that has not come yet is no definition here
 */
export function partDefinitions(
  records: Iterable<ReadRecord>,
  files: Readonly<Record<string, string>>,
): ReadonlyMap<string, PartDefinition> {
  const found = new Map<string, PartDefinition>();
  for (const { id, known } of records) {
    if (known?.kind !== "definition_published") continue;
    const { content } = known.body;
    const part = content.subject === "file" ? partIn(files[content.file]) : content;
    if (part?.subject === "part") found.set(id, part);
  }
  return found;
}

const read = new Map<string, PartDefinition | undefined>();

/** Screens ask for all definitions at every change of the records: a text is read once. */
function partIn(text: string | undefined): PartDefinition | undefined {
  if (text === undefined) return undefined;
  if (!read.has(text)) read.set(text, parsed(text));
  return read.get(text);
}

/** The part a file holds; undefined for one this version does not understand, which is never guessed at. */
function parsed(text: string): PartDefinition | undefined {
  try {
    const value: unknown = JSON.parse(text);
    return partDefinition(value) === undefined ? (value as PartDefinition) : undefined;
  } catch {
    return undefined;
  }
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

/** What the works orders of each alloy, by the id of the publication, in the order they came. */
export function materialDefinitions(records: Iterable<ReadRecord>): ReadonlyMap<string, MaterialDefinition> {
  const found = new Map<string, MaterialDefinition>();
  for (const { id, known } of records) {
    if (known?.kind !== "definition_published") continue;
    const { content } = known.body;
    if (content.subject === "material") found.set(id, content);
  }
  return found;
}
