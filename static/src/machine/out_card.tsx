// SPDX-License-Identifier: Apache-2.0
// A check out of its limits: stored, said as it is, and what the plan asks for. Nobody is stopped by the card.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Check, Made } from "../folds/checks.js";
import type { Characteristic } from "../records/kinds.js";
import { Keypad } from "../widgets/keypad.js";
import { DONE, saidOf, type Done } from "../words/checks.js";
import { inWords, say, type Key } from "../words/say.js";
import { Exposure } from "./check_entry.js";

const PLANS = {
  R1: "reaction.R1",
  R2: "reaction.R2",
  R3: "reaction.R3",
  R4: "reaction.R4",
  R5: "reaction.R5",
  R6: "reaction.R6",
  R7: "reaction.R7",
  R8: "reaction.R8",
  R9: "reaction.R9",
} as const satisfies Readonly<Record<string, Key>>;

export interface OutCardProps {
  readonly check: Check;
  readonly characteristic: Characteristic;
  readonly exposure: Made;
  /** How the gauge it was taken with stands, where that is not in order. */
  readonly gauge: ComponentChildren;
  readonly onAgain: (typingError: boolean) => void;
  readonly onDone: (done: Done, piecesBack: number) => void;
  /** Keys that lead elsewhere. */
  readonly children?: ComponentChildren;
}

export function OutCard({ check, characteristic, exposure, gauge, onAgain, onDone, children }: OutCardProps) {
  const [done, setDone] = useState<Done>();
  const [back, setBack] = useState("");
  const [problem, setProblem] = useState<string>();
  const plan = characteristic.reaction ?? "";
  const said = saidOf(check.said, characteristic.unit ?? "");
  const store = (chosen: Done): void => {
    setProblem(back === "" ? say("reaction.no_number") : undefined);
    if (back !== "") onDone(chosen, Number(back));
  };
  return (
    <section class="check-entry out-card">
      <div class="check-asked">
        <p class="out" role="status">
          <strong>{said}</strong> {say("check.out_stored")}
        </p>
        <h1>{inWords(characteristic.words)}</h1>
        {gauge}
        {Object.hasOwn(PLANS, plan) && <p class="plan">{say(PLANS[plan as keyof typeof PLANS])}</p>}
        <Exposure pieces={exposure} />
        {done === undefined && (
          <div class="pair">
            <button type="button" class="key" onClick={() => onAgain(false)}>
              {say("check.again")}
            </button>
            <button type="button" class="key" onClick={() => onAgain(true)}>
              {say("check.typing_error")}
            </button>
          </div>
        )}
        {done !== undefined && (
          <button type="button" class="key main store" onClick={() => store(done)}>
            {say("check.store")}
          </button>
        )}
        {children}
      </div>
      {done === undefined ? (
        <div class="answers is-list">
          <h2>{say("reaction.what")}</h2>
          {(Object.keys(DONE) as Done[]).map((one) => (
            <button key={one} type="button" class="key" onClick={() => setDone(one)}>
              {say(DONE[one])}
            </button>
          ))}
        </div>
      ) : (
        <div class="answers is-list">
          <h2>{say("reaction.how_many")}</h2>
          <Keypad
            value={back}
            onChange={setBack}
            digits={5}
            label={say("reaction.how_many")}
            problem={problem}
            onEnter={() => store(done)}
          />
        </div>
      )}
    </section>
  );
}
