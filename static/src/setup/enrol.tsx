// SPDX-License-Identifier: Apache-2.0
// Making a tablet known: its name and a one-time code, typed on keys a glove can hit, then an administrator's yes.
import { useState } from "preact/hooks";
import type { Asking, Tablet } from "../sync/contract.js";
import { sayError } from "../words/errors.js";
import { say, type Language } from "../words/say.js";
import { CODE_CHARACTERS, CODE_LENGTH, cleanCode, inHalves } from "./code_entry.js";
import "./enrol.css";
import { DeviceName, type FormProps } from "./device_form.js";
import { FirstForm } from "./first_form.js";
import { LanguageChoice } from "./language_choice.js";

export interface EnrolProps {
  readonly tablet: Tablet;
  /** Undefined without contact: whether this is a demo works is then not known. */
  readonly demo: boolean | undefined;
  /** The six digits an administrator compares, while this device waits for a yes. */
  readonly number: string | undefined;
  readonly invitation: { readonly by: "code" | "first"; readonly code: string } | undefined;
  readonly onLanguage: (chosen: Language) => void;
}

export function Enrol({ tablet, demo, number, invitation, onLanguage }: EnrolProps) {
  const [problem, setProblem] = useState<string>();
  const [isWorking, setWorking] = useState(false);
  const ask = async (asking: Asking): Promise<void> => {
    setProblem(undefined);
    setWorking(true);
    const answer = await tablet.enrol(asking);
    setWorking(false);
    if (!answer.ok) setProblem(sayError(answer.code));
  };
  if (number !== undefined) return <Waits number={number} />;
  const forms = { isWorking, onProblem: setProblem, onAsked: (asking: Asking) => void ask(asking) };
  return (
    <main class="choice enrol">
      <h1>{say(invitation?.by === "first" ? "first.title" : "enrol.title")}</h1>
      {demo === undefined && <p class="problem">{say("enrol.no_contact")}</p>}
      {/* What a demo holds is invented; a private window cannot be told from one whose browser says no. */}
      {demo !== true && tablet.isKept.value === false && <p class="problem">{say("enrol.not_kept")}</p>}
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
            onClick={() => void ask({ by: "demo", name: say("enrol.demo_name") })}
          >
            {say("enrol.demo_act")}
          </button>
        </section>
      )}
      {invitation?.by === "first" ? (
        <FirstForm code={invitation.code} {...forms} />
      ) : (
        <CodeForm given={invitation?.code ?? ""} {...forms} />
      )}
      <LanguageChoice onChosen={onLanguage} />
    </main>
  );
}

/** The code was right; now somebody who may compares a number and says yes. */
function Waits({ number }: { readonly number: string }) {
  return (
    <main class="choice enrol">
      <h1>{say("enrol.waits_title")}</h1>
      <p class="compare">{`${number.slice(0, 3)} ${number.slice(3)}`}</p>
      <p role="status">{say("enrol.waits_what")}</p>
    </main>
  );
}

function CodeForm({ given, isWorking, onProblem, onAsked }: FormProps & { readonly given: string }) {
  const [code, setCode] = useState(cleanCode(given));
  const [name, setName] = useState("");
  const send = (): void => {
    if (name.trim() === "") onProblem(say("enrol.name_missing"));
    else if (code.length < CODE_LENGTH) onProblem(say("enrol.code_missing", { length: CODE_LENGTH }));
    else onAsked({ by: "code", code, name: name.trim() });
  };
  return (
    <section class="code-form">
      <p>{say("enrol.what")}</p>
      <DeviceName value={name} onChange={setName} />
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
