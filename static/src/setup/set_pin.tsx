// SPDX-License-Identifier: Apache-2.0
// Setting one's own PIN with the one-time word an administrator handed over. Needs contact: the server keeps it.
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { Tablet } from "../sync/contract.js";
import { sayError } from "../words/errors.js";
import { say } from "../words/say.js";
import "./enrol.css";
import { CODE_LENGTH, cleanCode, inHalves } from "./code_entry.js";
import { NewPin } from "./new_pin.js";

export interface SetPinProps {
  readonly tablet: Tablet;
  readonly person: Person;
  readonly onSet: () => void;
  readonly onBack: () => void;
}

export function SetPin({ tablet, person, onSet, onBack }: SetPinProps) {
  const [word, setWord] = useState("");
  const [problem, setProblem] = useState<string>();
  const [isWorking, setWorking] = useState(false);
  const send = async (pin: string): Promise<void> => {
    if (word.length < CODE_LENGTH) return setProblem(say("enrol.code_missing", { length: CODE_LENGTH }));
    setWorking(true);
    const answer = await tablet.ask("/pins", { person: person.id, word, pin });
    setWorking(false);
    return answer.ok ? onSet() : setProblem(sayError(answer.code));
  };
  return (
    <main class="choice sign-on">
      <h1>{person.name}</h1>
      <section class="code-form">
        <p>{say("set_pin.what")}</p>
        {problem !== undefined && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
        <label class="field">
          <span>{say("set_pin.word")}</span>
          <input
            class="code"
            value={inHalves(word)}
            autocomplete="off"
            spellcheck={false}
            onInput={(event) => setWord(cleanCode(event.currentTarget.value))}
          />
        </label>
        <NewPin
          act={say("set_pin.act")}
          isWorking={isWorking}
          onProblem={setProblem}
          onPin={(pin) => void send(pin)}
        />
        <button type="button" class="key" onClick={onBack}>
          {say("people.back")}
        </button>
      </section>
    </main>
  );
}
