// SPDX-License-Identifier: Apache-2.0
// Who works here now: a name and its PIN. The open tray stays as it is; only whose finds come next changes.
import type { ComponentType } from "preact";
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { Tablet } from "../sync/contract.js";
import { say, type Language } from "../words/say.js";
import { LanguageChoice } from "./language_choice.js";
import { PinAnswer } from "./pin_answer.js";
import { PinPad } from "./pin_pad.js";
import { roleName } from "./roles.js";
import type { SetPinProps } from "./set_pin.js";
import "./sign_on.css";

export interface SignOnProps {
  readonly tablet: Tablet;
  readonly people: readonly Person[];
  readonly onSignedOn: () => void;
  readonly onLanguage: (chosen: Language) => void;
  /** Rarely wanted, so it comes on demand. */
  readonly SetPin: ComponentType<SetPinProps>;
}

/** Where the person stands: choosing a name, typing the PIN, hearing what the server says of it. */
type Stage =
  { readonly at: "names" } | { readonly at: "pin" | "answer" | "set_pin"; readonly person: Person };

export function SignOn({ tablet, people, onSignedOn, onLanguage, SetPin }: SignOnProps) {
  const [isRefused, setRefused] = useState(false);
  const [stage, setStage] = useState<Stage>({ at: "names" });
  const hasContact = tablet.sync.value.contact === "server";
  const signOn = async (person: Person, pin?: string): Promise<void> => {
    setRefused(false);
    const answer = await tablet.signOnAs(person.id, pin);
    if (!answer.stored) setRefused(true);
    // Without contact, or without a PIN, there is nothing to wait for.
    else if (pin === undefined || (!hasContact && tablet.proven.value === "waiting")) onSignedOn();
    else setStage({ at: "answer", person });
  };
  if (stage.at === "set_pin") {
    const toPin = (): void => setStage({ at: "pin", person: stage.person });
    return <SetPin tablet={tablet} person={stage.person} onSet={toPin} onBack={toPin} />;
  }
  return (
    <main class="choice sign-on">
      <h1>{stage.at === "names" ? say("sign_on.title") : stage.person.name}</h1>
      {isRefused && (
        <p class="problem" role="alert">
          {say("tally.not_stored")}. {say("stop.failed")}
        </p>
      )}
      {stage.at === "names" && (
        <Names tablet={tablet} people={people} onChosen={(person) => setStage({ at: "pin", person })} />
      )}
      {stage.at === "pin" && (
        <PinPad
          name={stage.person.name}
          hasContact={hasContact}
          onPin={(pin) => void signOn(stage.person, pin)}
          onWithout={() => void signOn(stage.person)}
          onBack={() => setStage({ at: "names" })}
          onSetPin={() => setStage({ at: "set_pin", person: stage.person })}
        />
      )}
      {stage.at === "answer" && (
        <PinAnswer
          tablet={tablet}
          name={stage.person.name}
          onAgain={() => setStage({ at: "pin", person: stage.person })}
          onGoOn={onSignedOn}
        />
      )}
      {stage.at === "names" && <LanguageChoice onChosen={onLanguage} />}
    </main>
  );
}

interface NamesProps {
  readonly tablet: Tablet;
  readonly people: readonly Person[];
  readonly onChosen: (person: Person) => void;
}

function Names({ tablet, people, onChosen }: NamesProps) {
  const present = tablet.signOn.value?.person;
  return (
    <>
      <p>{say("sign_on.what")}</p>
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
              onClick={() => onChosen(person)}
            >
              <strong>{person.name}</strong>
              <span>{person.roles.map(roleName).join(", ")}</span>
              {person.id === present && <small>{say("sign_on.present")}</small>}
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}
