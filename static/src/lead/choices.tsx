// SPDX-License-Identifier: Apache-2.0
// Keys of which one is chosen, and the days of a span.
import { say, type Key } from "../words/say.js";
import "./pareto.css";

interface DaysProps {
  readonly days: readonly [string, string];
  readonly onDays: (days: readonly [string, string]) => void;
}

export function Days({ days: [first, last], onDays }: DaysProps) {
  /** Both as the fields have them: the one that was changed a moment ago may not have been drawn yet. */
  const read = (row: HTMLElement): void => {
    const [from = "", to = ""] = [...row.querySelectorAll("input")].map(({ value }) => value);
    onDays([from, to]);
  };
  return (
    <div class="choice-row" onInput={(event) => read(event.currentTarget)}>
      <label class="field">
        <span>{say("pareto.first_day")}</span>
        <input type="date" value={first} />
      </label>
      <label class="field">
        <span>{say("pareto.last_day")}</span>
        <input type="date" value={last} />
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
