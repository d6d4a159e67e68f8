// SPDX-License-Identifier: Apache-2.0
import type { RecordOf } from "../records/kinds.js";
import { say, type Key } from "../words/say.js";

export type Role = RecordOf<"person_changed">["body"]["roles"][number];

const WORDS: Readonly<Record<Role, Key>> = {
  inspector: "role.inspector",
  operator: "role.operator",
  lead: "role.lead",
  administrator: "role.administrator",
  reader: "role.reader",
};

export const ROLES = Object.keys(WORDS) as readonly Role[];

export function roleName(role: Role): string {
  return say(WORDS[role]);
}
