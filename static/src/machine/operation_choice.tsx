// SPDX-License-Identifier: Apache-2.0
import type { PartDefinition } from "../records/kinds.js";
import { inWords, say } from "../words/say.js";

export interface OperationChoiceProps {
  readonly batchNumber: string;
  readonly definition: PartDefinition;
  /** False until what was recorded of the batch has reached this tablet. */
  readonly isHere: boolean;
  readonly onChosen: (operation: number) => void;
  readonly onBack: () => void;
}

/** Which operation of the route this is: those with checks. */
export function OperationChoice({ batchNumber, definition, isHere, onChosen, onBack }: OperationChoiceProps) {
  const checked = new Set((definition.characteristics ?? []).map((one) => one.operation));
  const operations = (definition.operations ?? []).filter((one) => checked.has(one.operation));
  return (
    <main class="choice">
      <h1>{say("check.which_operation")}</h1>
      <p class="on-bench">{batchNumber}</p>
      {!isHere && <p class="problem">{say("check.not_here")}</p>}
      {operations.length === 0 && <p class="empty">{say("check.no_operations")}</p>}
      <ul class="tiles">
        {operations.map(({ operation, words }) => (
          <li key={operation}>
            <button type="button" class="key tile" onClick={() => onChosen(operation)}>
              <strong>{inWords(words)}</strong>
            </button>
          </li>
        ))}
      </ul>
      <button type="button" class="key not-yet" onClick={onBack}>
        {say("nav.batches")}
      </button>
    </main>
  );
}
