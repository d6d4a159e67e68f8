// SPDX-License-Identifier: Apache-2.0
// Something an operation runs with changed: what it was, what it is now, and whether the pieces lie apart.
import { useState } from "preact/hooks";
import { say, type Key } from "../words/say.js";
import type { Change } from "./marks.js";

/** What changes at a machine from day to day; what belongs to loads and lots is told there. */
const CHANGES = {
  die: "change.die",
  tool: "change.tool",
  cavity: "change.cavity",
  bar: "change.bar",
  cast: "change.cast",
  lot: "change.lot",
  tray: "change.tray",
  shift: "change.shift",
  stop: "change.stop",
  reheat: "change.reheat",
  break: "change.break",
  last_piece: "change.last_piece",
} as const satisfies Partial<Readonly<Record<Change, Key>>>;
type Offered = keyof typeof CHANGES;

/** What bears a mark of its own, and whose pieces are to lie apart from those of the one before. */
const MARKED: readonly Offered[] = ["die", "tool", "cavity", "bar", "cast", "lot", "shift"];

export interface Told {
  readonly what: Change;
  readonly was?: string;
  readonly now?: string;
  readonly not_separated?: true;
}

export interface ChangedProps {
  readonly markOf: (what: Change) => string;
  readonly onChange: (change: Told) => void;
}

export function Changed({ markOf, onChange }: ChangedProps) {
  const [what, setWhat] = useState<Offered>();
  if (what !== undefined) return <WasAndNow what={what} before={markOf(what)} onChange={onChange} />;
  return (
    <section>
      <h1>{say("change.title")}</h1>
      <div class="tell-keys">
        {(Object.keys(CHANGES) as Offered[]).map((one) => (
          <button
            key={one}
            type="button"
            class="key"
            onClick={() => (MARKED.includes(one) ? setWhat(one) : onChange({ what: one }))}
          >
            {say(CHANGES[one])}
          </button>
        ))}
      </div>
    </section>
  );
}

interface WasAndNowProps {
  readonly what: Offered;
  readonly before: string;
  readonly onChange: (change: Told) => void;
}

function WasAndNow({ what, before, onChange }: WasAndNowProps) {
  const [was, setWas] = useState(before);
  const [now, setNow] = useState("");
  const tell = (apart: object): void => {
    const marks = { was: was.trim(), now: now.trim() };
    // Nobody is kept from telling a change because a mark cannot be read.
    const given = Object.fromEntries(Object.entries(marks).filter(([, mark]) => mark !== ""));
    onChange({ what, ...given, ...apart });
  };
  const field = (label: string, value: string, onInput: (value: string) => void) => (
    <label class="field">
      <span>{label}</span>
      <input
        value={value}
        autocomplete="off"
        autocapitalize="characters"
        maxLength={200}
        onInput={(event) => onInput(event.currentTarget.value)}
      />
    </label>
  );
  return (
    <section class="was-and-now">
      <h1>{say(CHANGES[what])}</h1>
      {field(say("change.was"), was, setWas)}
      {field(say("change.now"), now, setNow)}
      <p>{say("change.apart_what")}</p>
      <div class="pair">
        <button type="button" class="key main" onClick={() => tell({})}>
          {say("change.apart")}
        </button>
        <button type="button" class="key" onClick={() => tell({ not_separated: true })}>
          {say("change.not_separated")}
        </button>
      </div>
    </section>
  );
}
