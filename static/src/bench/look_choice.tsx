// SPDX-License-Identifier: Apache-2.0
import type { Key } from "../words/say.js";
import { lookName } from "../words/looks.js";
import { say } from "../words/say.js";

const WHEN: Readonly<Record<string, Key>> = { first: "look.first_when", second: "look.second_when" };

export interface LookChoiceProps {
  readonly batchNumber: string;
  readonly looks: readonly string[];
  readonly onChosen: (look: string) => void;
  /** To the checks at a machine; undefined for whoever has none. */
  readonly onMachine?: (() => void) | undefined;
  /** To the bars that go to this batch. */
  readonly onSaw?: (() => void) | undefined;
}

/** Which of the route's full inspections this is. */
export function LookChoice({ batchNumber, looks, onChosen, onMachine, onSaw }: LookChoiceProps) {
  return (
    <main class="choice">
      <h1>{say("look.title")}</h1>
      <p class="on-bench">{batchNumber}</p>
      <ul class="tiles is-large">
        {looks.map((look) => {
          const when = WHEN[look];
          return (
            <li key={look}>
              <button type="button" class="key tile" onClick={() => onChosen(look)}>
                <strong>{lookName(look)}</strong>
                {when !== undefined && <span>{say(when)}</span>}
              </button>
            </li>
          );
        })}
        {onMachine !== undefined && (
          <li>
            <button type="button" class="key tile" onClick={onMachine}>
              <strong>{say("look.machine")}</strong>
              <span>{say("look.machine_when")}</span>
            </button>
          </li>
        )}
        {onSaw !== undefined && (
          <li>
            <button type="button" class="key tile" onClick={onSaw}>
              <strong>{say("look.saw")}</strong>
              <span>{say("look.saw_when")}</span>
            </button>
          </li>
        )}
      </ul>
    </main>
  );
}
