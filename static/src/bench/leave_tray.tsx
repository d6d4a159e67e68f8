// SPDX-License-Identifier: Apache-2.0
// Leaving an open tray to somebody else: up to which place it was looked at is counted on the tray.
import { useState } from "preact/hooks";
import { Keypad } from "../widgets/keypad.js";
import { say } from "../words/say.js";

export interface LeaveTrayProps {
  readonly tray: number;
  readonly places: number;
  readonly onLeave: (place: number) => void;
}

export function LeaveTray({ tray, places, onLeave }: LeaveTrayProps) {
  const [typed, setTyped] = useState("");
  const [problem, setProblem] = useState<string>();
  const left = (): void => {
    if (typed === "") setProblem(say("leave.missing"));
    else if (Number(typed) > places) setProblem(say("leave.too_many", { places, place: Number(typed) }));
    else onLeave(Number(typed));
  };
  return (
    <section class="empty-places">
      <div>
        <h1>{say("leave.title", { number: tray })}</h1>
        <p>{say("leave.what", { places })}</p>
        <button type="button" class="key main" onClick={left}>
          {say("leave.act")}
        </button>
      </div>
      <Keypad
        value={typed}
        onChange={setTyped}
        digits={String(places).length}
        label={say("leave.title", { number: tray })}
        problem={problem}
        onEnter={left}
      />
    </section>
  );
}
