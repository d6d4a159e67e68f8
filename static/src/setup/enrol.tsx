// SPDX-License-Identifier: Apache-2.0
// Making a tablet known: its name and a one-time code, typed on keys a glove can hit.
import { useState } from "preact/hooks";
import type { Tablet } from "../sync/contract.js";
import { sayError } from "../words/errors.js";
import { say, type Language } from "../words/say.js";
import { CODE_CHARACTERS, CODE_LENGTH, cleanCode, inHalves } from "./code_entry.js";
import "./enrol.css";
import { LanguageChoice } from "./language_choice.js";

export interface EnrolProps {
  readonly tablet: Tablet;
  /** Undefined without contact: whether this is a demo works is then not known. */
  readonly demo: boolean | undefined;
  readonly onLanguage: (chosen: Language) => void;
}

type Answer = Awaited<ReturnType<Tablet["enrol"]>>;

export function Enrol({ tablet, demo, onLanguage }: EnrolProps) {
  const [problem, setProblem] = useState<string>();
  const [isWorking, setWorking] = useState(false);
  const ask = async (asking: Promise<Answer>): Promise<void> => {
    setProblem(undefined);
    setWorking(true);
    const answer = await asking;
    setWorking(false);
    if (!answer.ok) setProblem(sayError(answer.code));
  };
  return (
    <main class="choice enrol">
      <h1>{say("enrol.title")}</h1>
      {demo === undefined && <p class="problem">{say("enrol.no_contact")}</p>}
      {problem !== undefined && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      {isWorking && <p role="status">{say("enrol.working")}</p>}
      {demo === true && (
        <section class="demo">
          <p>{say("enrol.demo_what")}</p>
          <button
            type="button"
            class="key main"
            disabled={isWorking}
            onClick={() => void ask(tablet.enrolDemo(say("enrol.demo_name")))}
          >
            {say("enrol.demo_act")}
          </button>
        </section>
      )}
      <CodeForm
        isWorking={isWorking}
        onProblem={setProblem}
        onTyped={(code, name) => void ask(tablet.enrol(code, name))}
      />
      <LanguageChoice onChosen={onLanguage} />
    </main>
  );
}

interface CodeFormProps {
  readonly isWorking: boolean;
  readonly onProblem: (problem: string | undefined) => void;
  readonly onTyped: (code: string, name: string) => void;
}

function CodeForm({ isWorking, onProblem, onTyped }: CodeFormProps) {
  const [code, setCode] = useState("");
  const [name, setName] = useState("");
  const send = (): void => {
    if (name.trim() === "") onProblem(say("enrol.name_missing"));
    else if (code.length < CODE_LENGTH) onProblem(say("enrol.code_missing", { length: CODE_LENGTH }));
    else onTyped(code, name.trim());
  };
  return (
    <section class="code-form">
      <p>{say("enrol.what")}</p>
      <label class="field">
        <span>{say("enrol.name")}</span>
        <input
          value={name}
          maxLength={60}
          autocomplete="off"
          aria-describedby="name-hint"
          onInput={(event) => setName(event.currentTarget.value)}
        />
        <small id="name-hint">{say("enrol.name_hint")}</small>
      </label>
      <label class="field">
        <span>{say("enrol.code")}</span>
        <input
          class="code"
          value={inHalves(code)}
          autocomplete="off"
          spellcheck={false}
          onInput={(event) => setCode(cleanCode(event.currentTarget.value))}
          onKeyDown={(event) => {
            if (event.key === "Enter") send();
          }}
        />
      </label>
      <div class="code-keys">
        {Array.from(CODE_CHARACTERS).map((character) => (
          <button
            key={character}
            type="button"
            class="key"
            onClick={() => setCode(cleanCode(code + character))}
          >
            {character}
          </button>
        ))}
        <button type="button" class="key rubout" onClick={() => setCode(code.slice(0, -1))}>
          {say("enrol.rubout")}
        </button>
      </div>
      <button type="button" class="key main" disabled={isWorking} onClick={send}>
        {say("enrol.act")}
      </button>
    </section>
  );
}
