// SPDX-License-Identifier: Apache-2.0
// Which gauge a value comes from: scanned, typed, or one that was used here before. None is ever refused; one that was
// dropped or shows odd values is said to be doubtful with one key.
import { useState } from "preact/hooks";
import { keyOf } from "../folds/check_outcome.js";
import type { Check, Checks } from "../folds/checks.js";
import type { Characteristic } from "../records/kinds.js";
import { standingWord } from "../words/gauges.js";
import { dayAsRead } from "../words/measures.js";
import { say } from "../words/say.js";
import { GaugeSign } from "./gauge_line.js";
import type { GaugeStanding } from "./gauge_desk.js";

export interface GaugeChoiceProps {
  /** The gauge that is in hand; "" where nobody named one. */
  readonly present: string;
  /** The last day it may be used; "" for one that is never due. */
  readonly due: string;
  readonly offered: readonly GaugeStanding[];
  readonly onGauge: (gauge: string) => void;
  readonly onDoubt: () => void;
  /** Take back the doubt somebody here has just said; undefined where there is none. */
  readonly onNoDoubt: (() => void) | undefined;
}

/** Gauges that checks of an operation name, the one used last first. */
export function gaugesUsed(checks: readonly Check[], operation: number): readonly string[] {
  const named = checks.filter((one) => one.operation === operation && one.gauge !== "");
  return [...new Set(named.map((one) => one.gauge).reverse())];
}

/** The gauge somebody named here, or the one that the characteristic was measured with last. */
export function gaugeOf(
  named: ReadonlyMap<string, string>,
  checks: Checks,
  measured: Characteristic | undefined,
): string {
  if (measured === undefined) return "";
  const key = keyOf(measured);
  return named.get(key) ?? [...checks.checks].reverse().find((one) => keyOf(one) === key)?.gauge ?? "";
}

export function GaugeChoice({ present, due, offered, onGauge, onDoubt, onNoDoubt }: GaugeChoiceProps) {
  const [typed, setTyped] = useState("");
  return (
    <section class="gauge-choice">
      <h1>{say("gauge.title")}</h1>
      <p>{say("gauge.what")}</p>
      {due !== "" && <p>{say("gauge.due", { gauge: present, day: dayAsRead(due) })}</p>}
      {present !== "" && (
        <div class="pair">
          <button type="button" class="key" onClick={onDoubt}>
            <GaugeSign /> {say("gauge.doubt", { gauge: present })}
          </button>
          {onNoDoubt !== undefined && (
            <button type="button" class="key" onClick={onNoDoubt}>
              {say("gauge.no_doubt")}
            </button>
          )}
        </div>
      )}
      {offered.length > 0 && (
        <div class="tell-keys">
          {offered.map(({ number, standing }) => (
            <button key={number} type="button" class="key" onClick={() => onGauge(number)}>
              {number}
              <small>{say(standingWord(standing))}</small>
            </button>
          ))}
        </div>
      )}
      <label class="field">
        <span>{say("gauge.number")}</span>
        <input
          value={typed}
          autocomplete="off"
          autocapitalize="characters"
          maxLength={200}
          onInput={(event) => setTyped(event.currentTarget.value)}
        />
      </label>
      <div class="pair">
        <button
          type="button"
          class="key main"
          onClick={() => {
            if (typed.trim() !== "") onGauge(typed.trim());
          }}
        >
          {say("gauge.take")}
        </button>
      </div>
    </section>
  );
}
