// SPDX-License-Identifier: Apache-2.0
// A piece that turned up late: it goes to quarantine, and is never added to the batch again.
import { useState } from "preact/hooks";
import { say } from "../words/say.js";
import { CountField } from "./count_field.js";

const PLACES = ["more.in_bowl", "more.under_machine", "more.in_another_bin"] as const;

export interface FoundPartProps {
  readonly onFound: (pieces: number, where: string) => void;
}

export function FoundPart({ onFound }: FoundPartProps) {
  const [where, setWhere] = useState<string>();
  const [typed, setTyped] = useState("");
  if (where !== undefined) {
    return (
      <CountField
        title={say("more.found_title")}
        what={say("more.found_do")}
        act={say("check.store")}
        onCounted={(pieces) => {
          if (pieces > 0) onFound(pieces, where);
        }}
      />
    );
  }
  return (
    <section class="samples">
      <h1>{say("more.found_where")}</h1>
      <div class="tell-keys">
        {PLACES.map((place) => (
          <button key={place} type="button" class="key" onClick={() => setWhere(say(place))}>
            {say(place)}
          </button>
        ))}
      </div>
      <label class="field">
        <span>{say("strays.where")}</span>
        <input value={typed} maxLength={200} onInput={(event) => setTyped(event.currentTarget.value)} />
      </label>
      <button type="button" class="key" disabled={typed.trim() === ""} onClick={() => setWhere(typed.trim())}>
        {say("count.next")}
      </button>
    </section>
  );
}
