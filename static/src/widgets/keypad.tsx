// SPDX-License-Identifier: Apache-2.0
// Large digits for a count. The field opens empty; a hardware keyboard types into it too.
import { say } from "../words/say.js";

export interface KeypadProps {
  readonly value: string;
  readonly onChange: (value: string) => void;
  /** The longest number that makes sense here, in digits. */
  readonly digits: number;
  readonly label: string;
  readonly problem?: string | undefined;
  readonly onEnter: () => void;
}

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9"] as const;

export function Keypad({ value, onChange, digits, label, problem, onEnter }: KeypadProps) {
  const type = (digit: string): void => {
    if (value.length < digits) onChange(value === "0" ? digit : value + digit);
  };
  return (
    <div class="keypad">
      <input
        class="keypad-field"
        inputMode="none"
        autocomplete="off"
        aria-label={label}
        aria-invalid={problem !== undefined}
        aria-describedby={problem === undefined ? undefined : "keypad-problem"}
        value={value}
        onInput={(event) => {
          onChange(event.currentTarget.value.replace(/\D/g, "").slice(0, digits));
        }}
        onKeyDown={(event) => {
          if (event.key === "Enter") onEnter();
        }}
      />
      {problem !== undefined && (
        <p class="problem" id="keypad-problem" role="alert">
          {problem}
        </p>
      )}
      <div class="keypad-keys">
        {DIGITS.map((digit) => (
          <button key={digit} type="button" class="key" onClick={() => type(digit)}>
            {digit}
          </button>
        ))}
        <button type="button" class="key wide" onClick={() => onChange(value.slice(0, -1))}>
          {say("enrol.rubout")}
        </button>
        <button type="button" class="key" onClick={() => type("0")}>
          0
        </button>
      </div>
    </div>
  );
}
