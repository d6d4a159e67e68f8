// SPDX-License-Identifier: Apache-2.0
// The whole ledger of a batch, step by step: what went in, where each piece went, what is missing.
import type { PartDefinition } from "../records/kinds.js";
import { lookName } from "../words/looks.js";
import { number } from "../words/measures.js";
import { inWords, say, type Key } from "../words/say.js";
import type { LedgerStep, WholeLedger } from "./batch_answer.js";

export interface LedgerPartProps {
  readonly ledger: WholeLedger;
  readonly definition: PartDefinition | undefined;
}

const COLUMNS = [
  ["in", "ledger.in"],
  ["out", "ledger.out"],
  ["scrap", "ledger.scrap"],
  ["set_up", "ledger.set_up"],
  ["samples", "ledger.samples"],
  ["missing", "ledger.missing"],
] as const satisfies readonly (readonly [keyof LedgerStep, Key])[];

export function LedgerPart({ ledger, definition }: LedgerPartProps) {
  if (ledger.steps.length === 0) return null;
  const { good, scrap, samples_and_set_up, missing, taken, closes } = ledger;
  return (
    <section class="held-batch ledger">
      <h2>{say("ledger.title")}</h2>
      <p>
        {say("ledger.sum", { pieces: ledger.in, good, scrap, samples: samples_and_set_up, missing })}
        {taken > 0 && ` ${say("ledger.taken", { taken })}`}
      </p>
      <p>{say(closes ? "ledger.closes" : "ledger.open")}</p>
      <div class="ledger-scroll">
        <table>
          <thead>
            <tr>
              <th scope="col">{say("ledger.step")}</th>
              {COLUMNS.map(([column, name]) => (
                <th key={column} scope="col">
                  {say(name)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {ledger.steps.map((step) => (
              <tr key={`${step.operation} ${step.look} ${step.is_look}`}>
                <th scope="row">{nameOf(step, definition)}</th>
                {COLUMNS.map(([column]) => (
                  <td key={column} class={column === "missing" && step.missing !== 0 ? "is-missing" : ""}>
                    {step[column] === 0 && column !== "in" && column !== "out" ? "" : number(step[column])}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function nameOf({ operation, look, is_look }: LedgerStep, definition: PartDefinition | undefined): string {
  const words = (definition?.operations ?? []).find((one) => one.operation === operation)?.words;
  const name = words === undefined ? "" : inWords(words);
  const of = look === "" ? "" : is_look ? lookName(look) : say("ledger.aside", { look: lookName(look) });
  return [operation === 0 ? "" : String(operation), name || of, name === "" || is_look ? "" : of]
    .filter((one) => one !== "")
    .join(" ");
}
