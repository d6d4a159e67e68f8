// SPDX-License-Identifier: Apache-2.0
import { byId } from "../folds/gathered.js";
import type { ReadRecord, RecordOf } from "../records/kinds.js";

type Said = RecordOf<"person_changed">["body"];

/** A person as written down last; `said` is the id of the record that says so. */
export interface Person {
  readonly id: string;
  readonly said: string;
  readonly name: string;
  readonly roles: Said["roles"];
  readonly lastDay: string | undefined;
  readonly deputy: Said["deputy"];
}

/**
 * People by their ids; the newest `person_changed` of a person holds. They all stand in the server's own chains: in the
 * first, then in each that followed a roll-back, by the time of its `restored`.
 */
export function people(records: Iterable<ReadRecord>): readonly Person[] {
  const all = [...records];
  const begun = new Map<string, number>();
  for (const { chain, kind, made_at } of all) if (kind === "restored") begun.set(chain, made_at);
  const found = new Map<string, { readonly person: Person; readonly by: ReadRecord }>();
  for (const by of all) {
    if (by.known?.kind !== "person_changed") continue;
    const { name, roles, person: id = by.id, last_day: lastDay, deputy } = by.known.body;
    const before = found.get(id)?.by;
    const order =
      before === undefined
        ? 1
        : (begun.get(by.chain) ?? 0) - (begun.get(before.chain) ?? 0) || by.n - before.n;
    if (order > 0) found.set(id, { person: { id, said: by.id, name, roles, lastDay, deputy }, by });
  }
  return [...found.values()].map(({ person }) => person).sort((left, right) => byId(left.id, right.id));
}

/** People as a list shows them. The browser's first comparison of names takes long: no start waits for one. */
export function byName(people: readonly Person[]): readonly Person[] {
  return [...people].sort((left, right) => left.name.localeCompare(right.name));
}

/** A person with the roles of a day: none behind the last day, the lead's for a deputy on the days named. */
export function onDay(person: Person, day: string): Person {
  const { lastDay, deputy, roles } = person;
  if (lastDay !== undefined && day > lastDay) return { ...person, roles: [] };
  const standsIn = deputy !== undefined && deputy.first_day <= day && day <= deputy.last_day;
  return standsIn && !roles.includes("lead") ? { ...person, roles: [...roles, "lead"] } : person;
}
