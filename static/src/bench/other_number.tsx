// SPDX-License-Identifier: Apache-2.0
// A tray by the number that is typed from its card.
import { useState } from "preact/hooks";
import { Keypad } from "../widgets/keypad.js";
import { say } from "../words/say.js";

export interface OtherNumberProps {
  /** Numbers that were begun. */
  readonly taken: readonly number[];
  /** Numbers that have a card; undefined while nobody counted the batch in. */
  readonly due: readonly number[] | undefined;
  readonly onBegin: (number: number) => void;
}

export function OtherNumber({ taken, due, onBegin }: OtherNumberProps) {
  const [isOpenHere, setOpen] = useState(false);
  const [typed, setTyped] = useState("");
  const [problem, setProblem] = useState<string>();
  const [isNotDue, setNotDue] = useState(false);
  if (!isOpenHere) {
    return (
      <button type="button" class="key" onClick={() => setOpen(true)}>
        {say("tray.other")}
      </button>
    );
  }
  const chosen = Number(typed);
  const type = (text: string): void => {
    setTyped(text);
    setNotDue(false);
    setProblem(undefined);
  };
  const begin = (): void => {
    if (chosen < 1) setProblem(say("tray.number_missing"));
    else if (taken.includes(chosen)) setProblem(say("tray.number_taken", { number: chosen }));
    else if (due?.includes(chosen) === false) {
      setProblem(say("tray.number_not_due", { number: chosen }));
      setNotDue(true);
    } else onBegin(chosen);
  };
  return (
    <section class="other-number">
      <h2>{say("tray.other_title")}</h2>
      <Keypad
        value={typed}
        onChange={type}
        digits={4}
        label={say("tray.other_title")}
        problem={problem}
        onEnter={begin}
      />
      <button type="button" class="key main" onClick={begin}>
        {say("tray.begin_other")}
      </button>
      {isNotDue && (
        <button type="button" class="key" onClick={() => onBegin(chosen)}>
          {say("tray.begin_not_due", { number: chosen })}
        </button>
      )}
    </section>
  );
}
