// SPDX-License-Identifier: Apache-2.0
// Bought-in components of one lot: issued, left over, scrapped; the rest was used, and nobody types that.
import { useState } from "preact/hooks";
import type { RecordOf } from "../records/kinds.js";
import { componentWord } from "../records/component_word.js";
import { say, type Key } from "../words/say.js";
import { CountField } from "./count_field.js";

export type ComponentCount = Omit<RecordOf<"components_counted">["body"], "operation">;

export interface ComponentsPartProps {
  readonly known: readonly { readonly component: string; readonly lot: string }[];
  readonly onCounted: (counted: ComponentCount) => void;
}

type Term = "issued" | "left" | "scrapped";
const ASKED = [
  { term: "issued", title: "component.issued" },
  { term: "left", title: "component.left" },
  { term: "scrapped", title: "component.scrapped" },
] as const satisfies readonly { readonly term: Term; readonly title: Key }[];

export function ComponentsPart({ known, onCounted }: ComponentsPartProps) {
  const [name, setName] = useState("");
  const [lot, setLot] = useState("");
  const [isNamed, setNamed] = useState(false);
  const [counts, setCounts] = useState<Partial<Record<Term, number>>>({});
  const component = componentWord(name);
  const next = ASKED.find(({ term }) => counts[term] === undefined);
  if (isNamed && next !== undefined) {
    return (
      <CountField
        key={next.term}
        title={say(next.title, { component, lot })}
        what={say("component.what")}
        act={say(next.term === "scrapped" ? "check.store" : "count.next")}
        onCounted={(pieces) => {
          const now = { ...counts, [next.term]: pieces };
          setCounts(now);
          const { issued, left, scrapped } = now;
          if (issued !== undefined && left !== undefined && scrapped !== undefined)
            onCounted({ component, lot: lot.trim(), issued, left, scrapped });
        }}
      />
    );
  }
  return (
    <section class="samples">
      <h1>{say("component.which")}</h1>
      <div class="tell-keys">
        {known.map((one) => (
          <button
            key={`${one.component} ${one.lot}`}
            type="button"
            class="key"
            onClick={() => {
              setName(one.component);
              setLot(one.lot);
              setNamed(true);
            }}
          >
            {one.component} <small>{one.lot}</small>
          </button>
        ))}
      </div>
      <label class="field">
        <span>{say("component.name")}</span>
        <input value={name} maxLength={64} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      <label class="field">
        <span>{say("component.lot")}</span>
        <input value={lot} maxLength={200} onInput={(event) => setLot(event.currentTarget.value)} />
      </label>
      <button
        type="button"
        class="key main"
        disabled={component === "" || lot.trim() === ""}
        onClick={() => setNamed(true)}
      >
        {say("count.next")}
      </button>
    </section>
  );
}
