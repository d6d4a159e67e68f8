// SPDX-License-Identifier: Apache-2.0
import { byId } from "../folds/tally.js";
import type { ReadRecord } from "../records/kinds.js";

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly roles: readonly string[];
}

/**
 * People by name; the newest `person_changed` of a person holds. They all stand in the server's own chains: in the
 * first, then in each that followed a roll-back, by the time of its `restored`.
 */
export function people(records: Iterable<ReadRecord>): readonly Person[] {
  const all = [...records];
  const begun = new Map<string, number>();
  for (const { chain, kind, made_at } of all) if (kind === "restored") begun.set(chain, made_at);
  const found = new Map<string, Person & { readonly said: ReadRecord }>();
  for (const said of all) {
    if (said.known?.kind !== "person_changed") continue;
    const { name, roles, person: id = said.id } = said.known.body;
    const before = found.get(id)?.said;
    const order =
      before === undefined
        ? 1
        : (begun.get(said.chain) ?? 0) - (begun.get(before.chain) ?? 0) || said.n - before.n;
    if (order > 0) found.set(id, { id, name, roles, said });
  }
  return [...found.values()]
    .sort((left, right) => left.name.localeCompare(right.name) || byId(left.id, right.id))
    .map(({ id, name, roles }) => ({ id, name, roles }));
}
