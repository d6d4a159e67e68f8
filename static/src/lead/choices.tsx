// SPDX-License-Identifier: Apache-2.0
// Keys of which one is chosen, and the days of a span.
import { say, type Key } from "../words/say.js";
import "./pareto.css";

interface DaysProps {
  readonly days: readonly [string, string];
  readonly onDays: (days: readonly [string, string]) => void;
}

export function Days({ days: [first, last], onDays }: DaysProps) {
  return (
    <div class="choice-row">
      <label class="field">
        <span>{say("pareto.first_day")}</span>
        <input type="date" value={first} onInput={(event) => onDays([event.currentTarget.value, last])} />
      </label>
      <label class="field">
        <span>{say("pareto.last_day")}</span>
        <input type="date" value={last} onInput={(event) => onDays([first, event.currentTarget.value])} />
      </label>
    </div>
  );
}

interface ChoiceProps<Name extends string> {
  readonly words: Readonly<Record<Name, Key>>;
  readonly chosen: Name;
  readonly onChosen: (name: Name) => void;
}

export function Choice<Name extends string>({ words, chosen, onChosen }: ChoiceProps<Name>) {
  return (
    <div class="choice-row">
      {(Object.entries(words) as [Name, Key][]).map(([name, key]) => (
        <button
          key={name}
          type="button"
          class="key"
          aria-pressed={name === chosen}
          onClick={() => onChosen(name)}
        >
          {say(key)}
        </button>
      ))}
    </div>
  );
}
