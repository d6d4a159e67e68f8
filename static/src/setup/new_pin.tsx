// SPDX-License-Identifier: Apache-2.0
// A new PIN, typed twice. It is handed on once and kept nowhere.
import { useState } from "preact/hooks";
import { PinField } from "../widgets/pin_field.js";
import { say } from "../words/say.js";

export interface NewPinProps {
  readonly act: string;
  readonly isWorking: boolean;
  readonly onProblem: (problem: string | undefined) => void;
  readonly onPin: (pin: string) => void;
}

export function NewPin({ act, isWorking, onProblem, onPin }: NewPinProps) {
  const [pin, setPin] = useState("");
  const [again, setAgain] = useState("");
  const send = (): void => {
    onProblem(undefined);
    if (pin === "" || pin !== again) onProblem(say("new_pin.differ"));
    else onPin(pin);
  };
  return (
    <>
      <PinField label={say("new_pin.first")} value={pin} onChange={setPin} />
      <PinField label={say("new_pin.again")} value={again} onChange={setAgain} />
      <p>{say("new_pin.what")}</p>
      <button type="button" class="key main" disabled={isWorking} onClick={send}>
        {act}
      </button>
    </>
  );
}
