// SPDX-License-Identifier: Apache-2.0
// A stint begins: machine, tool, cavities and cast in a tap each, and nothing of it has to be said.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { say, type Key } from "../words/say.js";
import "./counts.css";
import "./machine.css";
import { saying, type Offered, type With } from "./stints.js";

export interface BeginPageProps {
  readonly batchNumber: string;
  readonly operationName: string;
  readonly offered: Offered;
  /** The cavities of the part's dies. */
  readonly cavities: readonly string[];
  /** What the stint before was made with, where this one goes on from it. */
  readonly before: With;
  /** True once the stint is stored. */
  readonly onBegin: (what: With) => Promise<boolean>;
  /** Keys that lead elsewhere. */
  readonly children: ComponentChildren;
}

const NAMED = {
  machine: "stint.machine",
  tool: "stint.tool",
  cast: "stint.cast",
} as const satisfies Readonly<Record<keyof Offered, Key>>;

export function BeginPage(props: BeginPageProps) {
  const { offered, cavities, onBegin } = props;
  const [chosen, setChosen] = useState<With>(props.before);
  const [isNotStored, setNotStored] = useState(false);
  const inUse = chosen.cavities ?? [];
  const toggle = (cavity: string): void =>
    setChosen(
      saying(
        chosen,
        "cavities",
        cavities.filter((one) => inUse.includes(one) !== (one === cavity)),
      ),
    );
  const begin = async (): Promise<void> => setNotStored(!(await onBegin(chosen)));
  return (
    <main class="choice machine">
      <header class="machine-head">
        <p class="on-bench">
          {props.batchNumber} <small>{props.operationName}</small>
        </p>
        <button type="button" class="key main" onClick={() => void begin()}>
          {say("check.start")}
        </button>
      </header>
      {isNotStored && <NotStoredLine />}
      <p>{say("stint.what")}</p>
      <div class="stint-with">
        {(Object.keys(NAMED) as (keyof Offered)[]).map((what) => (
          <Named
            key={what}
            label={say(NAMED[what])}
            names={offered[what]}
            chosen={chosen[what] ?? ""}
            onChoose={(name) => setChosen(saying(chosen, what, name))}
          />
        ))}
        {cavities.length > 0 && (
          <fieldset>
            <legend>{say("stint.cavities")}</legend>
            <div class="stint-names">
              {cavities.map((cavity) => (
                <button
                  key={cavity}
                  type="button"
                  class="key"
                  aria-pressed={inUse.includes(cavity)}
                  onClick={() => toggle(cavity)}
                >
                  {cavity}
                </button>
              ))}
            </div>
          </fieldset>
        )}
      </div>
      <footer class="machine-foot">{props.children}</footer>
    </main>
  );
}

interface NamedProps {
  readonly label: string;
  readonly names: readonly string[];
  readonly chosen: string;
  readonly onChoose: (name: string) => void;
}

/** A name by a tap, or typed where it is new; a second tap takes it back. */
function Named({ label, names, chosen, onChoose }: NamedProps) {
  const typed = names.includes(chosen) ? "" : chosen;
  return (
    <fieldset>
      <legend>{label}</legend>
      <div class="stint-names">
        {names.map((name) => (
          <button
            key={name}
            type="button"
            class="key"
            aria-pressed={name === chosen}
            onClick={() => onChoose(name === chosen ? "" : name)}
          >
            {name}
          </button>
        ))}
        <input
          value={typed}
          maxLength={200}
          autocomplete="off"
          autocapitalize="characters"
          aria-label={label}
          placeholder={say(names.length === 0 ? "stint.name" : "stint.another")}
          onInput={(event) => onChoose(event.currentTarget.value.trim())}
        />
      </div>
    </fieldset>
  );
}
