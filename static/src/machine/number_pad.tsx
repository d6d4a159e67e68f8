// SPDX-License-Identifier: Apache-2.0
// Large keys for a reading. The field opens empty; a gauge that types like a keyboard types into it too.
import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { asRead, pointOf } from "../words/measures.js";
import { say } from "../words/say.js";
import { cleaned, typedOn } from "./reading.js";

export interface NumberFieldProps {
  readonly value: string;
  readonly label: string;
  readonly unit: string;
  readonly problem: string | undefined;
  readonly onChange: (value: string) => void;
  readonly onEnter: () => void;
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
        onInput={(event) => onChange(cleaned(event.currentTarget.value))}
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
  /** What a sign in front means here; undefined where none makes sense. */
  readonly signs: "steps" | "below_zero" | undefined;
  readonly onChange: (value: string) => void;
  /** The key that stores. */
  readonly children: ComponentChildren;
}

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0"];

/** Keys stand where they stand whatever is checked: one that makes no sense is there and does nothing. */
export function NumberPad({ value, signs, onChange, children }: NumberPadProps) {
  const key = (of: string, area: string, shown: string, note?: string) => (
    <button
      key={of}
      type="button"
      class="key"
      style={{ gridArea: area }}
      disabled={(area === "plus" && signs !== "steps") || (area === "minus" && signs === undefined)}
      onClick={() => onChange(typedOn(value, of))}
    >
      {shown}
      {note !== undefined && <small>{note}</small>}
    </button>
  );
  const steps = signs === "steps" ? say("check.steps_key") : undefined;
  return (
    <div class="number-pad">
      {DIGITS.map((digit) => key(digit, `d${digit}`, digit))}
      {key(".", "point", pointOf())}
      {key("+", "plus", "+", steps)}
      {key("-", "minus", "−", steps)}
      <button
        type="button"
        class="key is-word"
        style={{ gridArea: "rub" }}
        onClick={() => onChange(value.slice(0, -1))}
      >
        {say("enrol.rubout")}
      </button>
      {children}
    </div>
  );
}
