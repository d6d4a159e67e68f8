// SPDX-License-Identifier: Apache-2.0
// Who works here, and what each may do. An administrator asks, the server answers; a PIN is set by its person alone.
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { Draft } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { sayError } from "../words/errors.js";
import { say, type Key } from "../words/say.js";
import { AnswerOf, useRequest } from "../widgets/asked.js";
import { inHalves } from "./code_entry.js";
import "./works.css";
import { ROLES, roleName, type Role } from "./roles.js";

export interface PeoplePageProps {
  readonly tablet: Tablet;
  readonly people: readonly Person[];
}

export function PeoplePage({ tablet, people }: PeoplePageProps) {
  const [chosen, setChosen] = useState<Person | "new">();
  const { asked, ask } = useRequest(tablet);
  const hasContact = tablet.sync.value.contact === "server";
  return (
    <main class="choice works-page">
      <h1>{say("people.title")}</h1>
      {!hasContact && <p class="problem">{say("asked.no_contact")}</p>}
      <AnswerOf tablet={tablet} asked={asked} />
      {chosen === undefined ? (
        <>
          <button type="button" class="key main" disabled={!hasContact} onClick={() => setChosen("new")}>
            {say("people.add")}
          </button>
          <ul class="tiles people">
            {people.map((person) => (
              <li key={person.id}>
                <button
                  type="button"
                  class="key tile"
                  disabled={!hasContact}
                  onClick={() => setChosen(person)}
                >
                  <strong>{person.name}</strong>
                  <span>{person.roles.map(roleName).join(", ")}</span>
                  {person.lastDay !== undefined && (
                    <small>{say("people.until", { day: person.lastDay })}</small>
                  )}
                  {person.deputy !== undefined && (
                    <small>
                      {say("people.deputy_days", {
                        first: person.deputy.first_day,
                        last: person.deputy.last_day,
                      })}
                    </small>
                  )}
                </button>
              </li>
            ))}
          </ul>
        </>
      ) : (
        <PersonForm
          key={chosen === "new" ? "new" : chosen.id}
          tablet={tablet}
          person={chosen === "new" ? undefined : chosen}
          onAsked={(draft) => {
            void ask(draft);
            setChosen(undefined);
          }}
          onBack={() => setChosen(undefined)}
        />
      )}
    </main>
  );
}

interface PersonFormProps {
  readonly tablet: Tablet;
  readonly person: Person | undefined;
  readonly onAsked: (draft: Draft) => void;
  readonly onBack: () => void;
}

function PersonForm({ tablet, person, onAsked, onBack }: PersonFormProps) {
  const [name, setName] = useState(person?.name ?? "");
  const [roles, setRoles] = useState<readonly Role[]>(person?.roles ?? []);
  const [lastDay, setLastDay] = useState(person?.lastDay ?? "");
  const [first, setFirst] = useState(person?.deputy?.first_day ?? "");
  const [last, setLast] = useState(person?.deputy?.last_day ?? "");
  const [problem, setProblem] = useState<Key>();
  const toggle = (role: Role): void =>
    setRoles(roles.includes(role) ? roles.filter((one) => one !== role) : [...roles, role]);
  const send = (): void => {
    if (name.trim() === "") return setProblem("people.name_missing");
    if (roles.length === 0) return setProblem("people.role_missing");
    if ((first === "") !== (last === "")) return setProblem("people.deputy_missing");
    const body = {
      name: name.trim(),
      roles: [...roles],
      ...(person === undefined ? {} : { person: person.id, newest: person.said }),
      ...(lastDay === "" ? {} : { last_day: lastDay }),
      ...(first === "" ? {} : { deputy: { first_day: first, last_day: last } }),
    };
    return onAsked({ kind: "person_requested", v: 1, body });
  };
  return (
    <section class="code-form">
      {problem !== undefined && (
        <p class="problem" role="alert">
          {say(problem)}
        </p>
      )}
      <label class="field">
        <span>{say("people.name")}</span>
        <input
          value={name}
          maxLength={200}
          autocomplete="off"
          onInput={(event) => setName(event.currentTarget.value)}
        />
      </label>
      <fieldset class="roles">
        <legend>{say("people.roles")}</legend>
        {ROLES.map((role) => (
          <button
            key={role}
            type="button"
            class="key"
            aria-pressed={roles.includes(role)}
            onClick={() => toggle(role)}
          >
            {roleName(role)}
          </button>
        ))}
      </fieldset>
      <Day label={say("people.last_day")} value={lastDay} onChange={setLastDay} />
      <Day label={say("people.deputy_first")} value={first} onChange={setFirst} />
      <Day label={say("people.deputy_last")} value={last} onChange={setLast} />
      <div class="pair">
        <button type="button" class="key main" onClick={send}>
          {say(person === undefined ? "people.ask_add" : "people.ask_change")}
        </button>
        <button type="button" class="key" onClick={onBack}>
          {say("people.back")}
        </button>
      </div>
      {person !== undefined && <PinWord tablet={tablet} person={person} />}
    </section>
  );
}

interface DayProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
}

function Day({ label, value, onChange }: DayProps) {
  return (
    <label class="field">
      <span>{label}</span>
      <input type="date" value={value} onInput={(event) => onChange(event.currentTarget.value)} />
    </label>
  );
}

/** A one-time word to hand over: with it the person sets the PIN, and nobody else ever knows it. */
function PinWord({ tablet, person }: { readonly tablet: Tablet; readonly person: Person }) {
  const [word, setWord] = useState<string>();
  const [problem, setProblem] = useState<string>();
  const make = async (): Promise<void> => {
    const answer = await tablet.ask("/pin-words", { person: person.id });
    if (!answer.ok) setProblem(sayError(answer.code));
    else setWord((answer.value as { readonly word: string }).word);
  };
  return (
    <>
      <p>{say("pin_word.what")}</p>
      {problem !== undefined && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      {word === undefined ? (
        <button type="button" class="key" onClick={() => void make()}>
          {say("pin_word.make")}
        </button>
      ) : (
        <p class="compare">{inHalves(word)}</p>
      )}
    </>
  );
}
