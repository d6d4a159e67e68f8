// SPDX-License-Identifier: Apache-2.0
// An open tray changes hands: from the place where it was left, or from its first place as if nobody had looked.
import { moment } from "../words/measures.js";
import { say } from "../words/say.js";
import type { InHand } from "./look_state.js";

export interface TakeOverProps {
  readonly one: InHand;
  readonly tablet: string;
  readonly onTake: (from: "left" | "first") => void;
  readonly onBack: () => void;
}

export function TakeOver({ one, tablet, onTake, onBack }: TakeOverProps) {
  const { tray, left, since } = one;
  return (
    <main class="choice">
      <h1>{say("take.title", { number: tray.number })}</h1>
      {left === undefined ? (
        <p class="problem">{say("take.not_left", { tablet, when: moment(since) })}</p>
      ) : (
        <p>{say("take.left", { place: left.place, when: moment(left.at) })}</p>
      )}
      <div class="begin">
        {left !== undefined && (
          <button type="button" class="key main" onClick={() => onTake("left")}>
            {say("take.from", { place: left.place + 1 })}
            <small>{say("take.from_what")}</small>
          </button>
        )}
        <button type="button" class="key" onClick={() => onTake("first")}>
          {say("take.from_first")}
          <small>{say("take.from_first_what")}</small>
        </button>
      </div>
      <button type="button" class="key not-yet" onClick={onBack}>
        {say("nav.trays")}
      </button>
    </main>
  );
}
