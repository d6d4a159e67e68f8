// SPDX-License-Identifier: Apache-2.0
// The link that `init` printed: the first administrator's name and PIN, and this browser as the first device.
import { useState } from "preact/hooks";
import { say } from "../words/say.js";
import { DeviceName, type FormProps } from "./device_form.js";
import { NewPin } from "./new_pin.js";

export function FirstForm({ code, isWorking, onProblem, onAsked }: FormProps & { readonly code: string }) {
  const [name, setName] = useState("");
  const [person, setPerson] = useState("");
  const send = (pin: string): void => {
    if (name.trim() === "") onProblem(say("enrol.name_missing"));
    else if (person.trim() === "") onProblem(say("people.name_missing"));
    else onAsked({ by: "first", code, name: name.trim(), person: person.trim(), pin });
  };
  return (
    <section class="code-form">
      <p>{say("first.what")}</p>
      <label class="field">
        <span>{say("people.name")}</span>
        <input
          value={person}
          maxLength={200}
          autocomplete="off"
          onInput={(event) => setPerson(event.currentTarget.value)}
        />
      </label>
      <DeviceName value={name} onChange={setName} />
      <NewPin act={say("first.act")} isWorking={isWorking} onProblem={onProblem} onPin={send} />
    </section>
  );
}
