// SPDX-License-Identifier: Apache-2.0
// Who works here now: one tap on a name. The open tray stays as it is; only whose finds come next changes.
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { Tablet } from "../sync/contract.js";
import { say, type Key, type Language } from "../words/say.js";
import { LanguageChoice } from "./language_choice.js";

const ROLES: Readonly<Record<string, Key>> = {
  inspector: "role.inspector",
  operator: "role.operator",
  lead: "role.lead",
  administrator: "role.administrator",
  reader: "role.reader",
};

export interface SignOnProps {
  readonly tablet: Tablet;
  readonly people: readonly Person[];
  readonly onSignedOn: () => void;
  readonly onLanguage: (chosen: Language) => void;
}

export function SignOn({ tablet, people, onSignedOn, onLanguage }: SignOnProps) {
  const [isRefused, setRefused] = useState(false);
  const present = tablet.signOn.value?.person;
  const chosen = async (person: Person): Promise<void> => {
    setRefused(false);
    const answer = await tablet.signOnAs(person.id);
    if (answer.stored) onSignedOn();
    else setRefused(true);
  };
  return (
    <main class="choice sign-on">
      <h1>{say("sign_on.title")}</h1>
      <p>{say("sign_on.what")}</p>
      {isRefused && (
        <p class="problem" role="alert">
          {say("tally.not_stored")}. {say("stop.failed")}
        </p>
      )}
      {people.length === 0 && (
        <section class="empty">
          <p>{say("sign_on.nobody")}</p>
          <button type="button" class="key" onClick={() => tablet.syncNow()}>
            {say("sign_on.ask_server")}
          </button>
        </section>
      )}
      <ul class="tiles people">
        {people.map((person) => (
          <li key={person.id}>
            <button
              type="button"
              class="key tile"
              aria-current={person.id === present}
              onClick={() => void chosen(person)}
            >
              <strong>{person.name}</strong>
              <span>{person.roles.map(roleName).join(", ")}</span>
              {person.id === present && <small>{say("sign_on.present")}</small>}
            </button>
          </li>
        ))}
      </ul>
      <LanguageChoice onChosen={onLanguage} />
    </main>
  );
}

function roleName(role: string): string {
  const key = ROLES[role];
  return key === undefined ? role : say(key);
}
