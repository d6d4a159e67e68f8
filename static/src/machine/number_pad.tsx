// SPDX-License-Identifier: Apache-2.0
// Large keys for a reading. The field opens empty; a gauge that types like a keyboard types into it too.
import { useEffect, useRef } from "preact/hooks";
import { language, say } from "../words/say.js";
import { typedOn } from "./check_desk.js";

export interface NumberFieldProps {
  readonly value: string;
  readonly label: string;
  readonly unit: string;
  readonly problem: string | undefined;
  readonly onChange: (value: string) => void;
  readonly onEnter: () => void;
}

/** The point as whoever reads it writes it. */
export function pointOf(): "," | "." {
  return language.value === "de" ? "," : ".";
}

/** A number of a record as whoever reads it writes it. */
export function asRead(value: string): string {
  return value.replace(".", pointOf());
}

export function NumberField({ value, label, unit, problem, onChange, onEnter }: NumberFieldProps) {
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), [label]);
  return (
    <div class="reading">
      <input
        ref={field}
        class="keypad-field"
        inputMode="none"
        autocomplete="off"
        aria-label={label}
        aria-invalid={problem !== undefined}
        aria-describedby={problem === undefined ? undefined : "reading-problem"}
        value={asRead(value)}
        onInput={(event) => onChange(event.currentTarget.value.replace(",", ".").replace(/[^-0-9.]/g, ""))}
        onKeyDown={(event) => {
          if (event.key === "Enter") onEnter();
        }}
      />
      <span class="unit">{unit}</span>
      {problem !== undefined && (
        <p class="problem" id="reading-problem" role="alert">
          {problem}
        </p>
      )}
    </div>
  );
}

export interface NumberPadProps {
  readonly value: string;
  readonly mayBeNegative: boolean;
  readonly onChange: (value: string) => void;
}

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9"];

export function NumberPad({ value, mayBeNegative, onChange }: NumberPadProps) {
  const key = (of: string, shown = of) => (
    <button key={of} type="button" class="key" onClick={() => onChange(typedOn(value, of))}>
      {shown}
    </button>
  );
  return (
    <div class="number-pad">
      {DIGITS.map((digit) => key(digit))}
      {key(".", pointOf())}
      {key("0")}
      <button type="button" class="key is-word" onClick={() => onChange(value.slice(0, -1))}>
        {say("enrol.rubout")}
      </button>
      {mayBeNegative && key("-", "−")}
    </div>
  );
}
