// SPDX-License-Identifier: Apache-2.0
// What a lead writes down of a gauge that was checked: how it was found, against what, and when it is due again.
import type { TargetedEvent } from "preact";
import { useState } from "preact/hooks";
import type { RecordOf } from "../records/kinds.js";
import { say, type Key } from "../words/say.js";

type Said = RecordOf<"gauge_checked">["body"];

const RESULTS = {
  fit: "gauges.fit",
  wrong: "gauges.wrong",
  doubtful: "gauges.doubt",
} as const satisfies Readonly<Record<Said["result"], Key>>;

const WHAT = {
  fit: "gauges.fit_what",
  wrong: "gauges.wrong_what",
  doubtful: "gauges.doubt_what",
} as const satisfies Readonly<Record<Said["result"], Key>>;

export interface GaugeEntryProps {
  readonly gauge: string;
  /** Store it; true once it is stored. */
  readonly onSaid: (said: Said) => Promise<boolean>;
  readonly onLeave: () => void;
}

export function GaugeEntry({ gauge, onSaid, onLeave }: GaugeEntryProps) {
  const [result, setResult] = useState<Said["result"]>();
  const [texts, setTexts] = useState({ against: "", certificate: "", next_due: "", note: "" });
  const [problem, setProblem] = useState<Key>();
  const fields: readonly (readonly [keyof typeof texts, Key])[] =
    result === "doubtful"
      ? [["note", "gauges.note"]]
      : [
          ["against", "gauges.against"],
          ["certificate", "gauges.certificate"],
          ...(result === "fit" ? [["next_due", "gauges.next_due"] as const] : []),
          ["note", "gauges.note"],
        ];
  const type = (name: keyof typeof texts, event: TargetedEvent<HTMLInputElement>): void => {
    setTexts({ ...texts, [name]: event.currentTarget.value });
    setProblem(undefined);
  };
  const store = async (): Promise<void> => {
    if (result === undefined) return;
    // How a gauge was found says little without what it was held against.
    if (result !== "doubtful" && texts.against.trim() === "") {
      setProblem("gauges.against_missing");
      return;
    }
    const shown = fields.map(([name]) => [name, texts[name].trim()] as const);
    const said = Object.fromEntries(shown.filter(([, text]) => text !== ""));
    if (!(await onSaid({ gauge, result, ...said }))) setProblem("gauges.not_stored");
  };
  return (
    <section class="gauge-entry">
      <h3>{say("gauges.how_found", { gauge })}</h3>
      <div class="gauge-results">
        {(Object.keys(RESULTS) as Said["result"][]).map((one) => (
          <button
            key={one}
            type="button"
            class="key"
            aria-pressed={result === one}
            onClick={() => {
              setResult(one);
              setProblem(undefined);
            }}
          >
            {say(RESULTS[one])}
          </button>
        ))}
      </div>
      {result !== undefined && (
        <>
          <p class={result === "wrong" ? "reaches" : ""}>{say(WHAT[result])}</p>
          {fields.map(([name, key]) => (
            <label key={name} class="field">
              <span>{say(key)}</span>
              {name === "next_due" ? (
                <input type="date" value={texts.next_due} onInput={(event) => type(name, event)} />
              ) : (
                <input
                  value={texts[name]}
                  maxLength={200}
                  autocomplete="off"
                  onInput={(event) => type(name, event)}
                />
              )}
            </label>
          ))}
          {problem !== undefined && (
            <p class="problem" role="alert">
              {say(problem)}
            </p>
          )}
          <button type="button" class="key main" onClick={() => void store()}>
            {say("gauges.store")}
          </button>
        </>
      )}
      <button type="button" class="key" onClick={onLeave}>
        {say("gauges.leave")}
      </button>
    </section>
  );
}
