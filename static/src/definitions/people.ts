// SPDX-License-Identifier: Apache-2.0
import { byId } from "../folds/tally.js";
import type { ReadRecord } from "../records/kinds.js";

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly string[];
}

/** People by name; the newest `person_changed` of a person holds. They all stand in the server's own chain. */
export function people(records: Iterable<ReadRecord>): readonly Person[] {
  const found = new Map<string, Person & { readonly said: string }>();
  for (const { id: said, known } of records) {
    if (known?.kind !== "person_changed") continue;
    const { name, roles, person: id = said } = known.body;
    const before = found.get(id);
    if (before === undefined || byId(before.said, said) < 0) found.set(id, { id, name, roles, said });
  }
  return [...found.values()]
    .sort((left, right) => left.name.localeCompare(right.name) || byId(left.id, right.id))
    .map(({ id, name, roles }) => ({ id, name, roles }));
}
