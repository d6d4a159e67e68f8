// SPDX-License-Identifier: Apache-2.0
// Which gauge a value comes from: scanned, typed, or one that was used here before. None is ever refused.
import { useState } from "preact/hooks";
import { keyOf } from "../folds/check_outcome.js";
import type { Check, Checks } from "../folds/checks.js";
import type { Characteristic } from "../records/kinds.js";
import { say } from "../words/say.js";

export interface GaugeChoiceProps {
  /** Gauges used here before, the one used last first. */
  readonly used: readonly string[];
  readonly onGauge: (gauge: string) => void;
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
  entered: Characteristic | undefined,
): string {
  if (entered === undefined) return "";
  const key = keyOf(entered);
  return named.get(key) ?? [...checks.checks].reverse().find((one) => keyOf(one) === key)?.gauge ?? "";
}

export function GaugeChoice({ used, onGauge }: GaugeChoiceProps) {
  const [typed, setTyped] = useState("");
  return (
    <section class="was-and-now">
      <h1>{say("gauge.title")}</h1>
      <p>{say("gauge.what")}</p>
      {used.length > 0 && (
        <div class="tell-keys">
          {used.map((gauge) => (
            <button key={gauge} type="button" class="key" onClick={() => onGauge(gauge)}>
              {gauge}
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
