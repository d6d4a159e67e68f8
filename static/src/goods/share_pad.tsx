// SPDX-License-Identifier: Apache-2.0
// Large keys for a share in percent as a certificate prints it, with the sign for "less than".
import { asRead } from "../words/measures.js";
import { say } from "../words/say.js";

export interface ShareFieldProps {
  readonly label: string;
  readonly value: string;
  readonly problem: string | undefined;
  readonly onChange: (value: string) => void;
  readonly onEnter: () => void;
}

export function ShareField({ label, value, problem, onChange, onEnter }: ShareFieldProps) {
  return (
    <div class="keypad">
      <input
        class="keypad-field"
        inputMode="none"
        autocomplete="off"
        aria-label={label}
        aria-invalid={problem !== undefined}
        aria-describedby={problem === undefined ? undefined : "share-problem"}
        value={asRead(value)}
        onInput={(event) => onChange(event.currentTarget.value.replace(",", ".").replace(/[^<0-9.]/g, ""))}
        onKeyDown={(event) => {
          if (event.key === "Enter") onEnter();
        }}
      />
      {problem !== undefined && (
        <p class="problem" id="share-problem" role="alert">
          {problem}
        </p>
      )}
    </div>
  );
}

const KEYS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "<"];
const MOST_DIGITS = 8;

export function SharePad({
  value,
  onChange,
}: {
  readonly value: string;
  readonly onChange: (value: string) => void;
}) {
  return (
    <div class="keypad">
      <div class="keypad-keys">
        {KEYS.map((key) => (
          <button key={key} type="button" class="key" onClick={() => onChange(typedOn(value, key))}>
            {asRead(key)}
          </button>
        ))}
        <button type="button" class="key wide" onClick={() => onChange(value.slice(0, -1))}>
          {say("enrol.rubout")}
        </button>
      </div>
    </div>
  );
}

/** What a key adds to what was typed: one point, "less than" in front of everything, no zero before a digit. */
export function typedOn(typed: string, key: string): string {
  const sign = typed.startsWith("<") ? "<" : "";
  const digits = typed.slice(sign.length);
  if (key === "<") return sign === "" ? `<${digits}` : digits;
  if (key === ".") return digits === "" || digits.includes(".") ? typed : `${typed}.`;
  if (digits.length > MOST_DIGITS) return typed;
  return sign + (digits === "0" ? key : digits + key);
}
