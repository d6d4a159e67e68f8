// SPDX-License-Identifier: Apache-2.0
// What the forms that make a browser a device have in common.
import type { Asking } from "../sync/contract.js";
import { say } from "../words/say.js";

export interface FormProps {
  readonly isWorking: boolean;
  readonly onProblem: (problem: string | undefined) => void;
  readonly onAsked: (asking: Asking) => void;
}

export interface DeviceNameProps {
  readonly value: string;
  readonly onChange: (value: string) => void;
}

export function DeviceName({ value, onChange }: DeviceNameProps) {
  return (
    <label class="field">
      <span>{say("enrol.name")}</span>
      <input
        value={value}
        maxLength={60}
        autocomplete="off"
        aria-describedby="name-hint"
        onInput={(event) => onChange(event.currentTarget.value)}
      />
      <small id="name-hint">{say("enrol.name_hint")}</small>
    </label>
  );
}
