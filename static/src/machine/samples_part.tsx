// SPDX-License-Identifier: Apache-2.0
// First-offs and test pieces, each a line of its own: which test, how many, and whether they are in the batch again.
import { useState } from "preact/hooks";
import { say, type Key } from "../words/say.js";
import { CountField } from "./count_field.js";
import type { Sample, SampleBody } from "./stints.js";

/** The tests most samples are for; whatever else is typed. */
const TESTS = {
  first_off: "sample.first_off",
  etched_section: "sample.etched_section",
  hardness: "sample.hardness",
  break_test: "sample.break_test",
} as const satisfies Readonly<Record<string, Key>>;

const FATES = {
  given_back: "sample.given_back",
  used_up: "sample.used_up",
  destroyed: "sample.destroyed",
} as const satisfies Readonly<Record<SampleBody["fate"], Key>>;

/** A test as it is called here; one that a team named itself keeps its name. */
export function testName(test: string): string {
  return Object.hasOwn(TESTS, test) ? say(TESTS[test as keyof typeof TESTS]) : test;
}

export interface SamplesPartProps {
  readonly samples: readonly Sample[];
  readonly onTaken: (sample: Omit<SampleBody, "operation">) => void;
  readonly onTakeBack: (id: string) => void;
  readonly onDone: () => void;
}

export function SamplesPart({ samples, onTaken, onTakeBack, onDone }: SamplesPartProps) {
  const [isAdding, setAdding] = useState(false);
  if (isAdding) {
    return (
      <SampleEntry
        onTaken={(sample) => {
          onTaken(sample);
          setAdding(false);
        }}
        onNone={() => setAdding(false)}
      />
    );
  }
  return (
    <section class="samples">
      <h1>{say("sample.title")}</h1>
      <p>{say("sample.what")}</p>
      {samples.length > 0 && (
        <ul class="count-lines">
          {samples.map(({ id, body }) => (
            <li key={id}>
              <span>{testName(body.test)}</span>
              <strong>{body.pieces}</strong>
              <span>{say(FATES[body.fate])}</span>
              <button type="button" class="key" onClick={() => onTakeBack(id)}>
                {say("sample.take_back")}
              </button>
            </li>
          ))}
        </ul>
      )}
      <div class="tell-keys">
        <button type="button" class="key" onClick={() => setAdding(true)}>
          {say("sample.add")}
        </button>
        <button type="button" class="key main" onClick={onDone}>
          {say(samples.length === 0 ? "sample.none" : "sample.all")}
        </button>
      </div>
    </section>
  );
}

interface SampleEntryProps {
  readonly onTaken: (sample: Omit<SampleBody, "operation">) => void;
  readonly onNone: () => void;
}

function SampleEntry({ onTaken, onNone }: SampleEntryProps) {
  const [test, setTest] = useState<string>();
  const [fate, setFate] = useState<SampleBody["fate"]>();
  const [typed, setTyped] = useState("");
  if (test === undefined) {
    return (
      <section class="samples">
        <h1>{say("sample.which_test")}</h1>
        <div class="tell-keys">
          {(Object.keys(TESTS) as (keyof typeof TESTS)[]).map((one) => (
            <button key={one} type="button" class="key" onClick={() => setTest(one)}>
              {say(TESTS[one])}
            </button>
          ))}
        </div>
        <label class="field">
          <span>{say("sample.other_test")}</span>
          <input value={typed} maxLength={200} onInput={(event) => setTyped(event.currentTarget.value)} />
        </label>
        <div class="head-keys">
          <button
            type="button"
            class="key"
            disabled={typed.trim() === ""}
            onClick={() => setTest(typed.trim())}
          >
            {say("sample.take_other")}
          </button>
          <button type="button" class="key" onClick={onNone}>
            {say("sample.no_more")}
          </button>
        </div>
      </section>
    );
  }
  if (fate === undefined) {
    return (
      <section class="samples">
        <h1>{say("sample.where_now", { test: testName(test) })}</h1>
        <div class="tell-keys">
          {(Object.keys(FATES) as SampleBody["fate"][]).map((one) => (
            <button key={one} type="button" class="key" onClick={() => setFate(one)}>
              {say(FATES[one])}
            </button>
          ))}
        </div>
      </section>
    );
  }
  return (
    <CountField
      title={say("sample.how_many", { test: testName(test) })}
      what={say(FATES[fate])}
      act={say("sample.store")}
      onCounted={(pieces) => (pieces === 0 ? onNone() : onTaken({ pieces, test, fate }))}
    />
  );
}
