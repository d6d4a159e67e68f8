// SPDX-License-Identifier: Apache-2.0
// Digits for a PIN, and a keyboard for whoever has a longer secret. What is typed is never shown, and handed on once.
import { useRef, useState } from "preact/hooks";
import { say } from "../words/say.js";

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9"] as const;
const LONGEST_PIN = 200;

export interface PinPadProps {
  readonly name: string;
  readonly hasContact: boolean;
  readonly onPin: (pin: string) => void;
  readonly onWithout: () => void;
  readonly onBack: () => void;
  readonly onSetPin: () => void;
}

export function PinPad({ name, hasContact, onPin, onWithout, onBack, onSetPin }: PinPadProps) {
  const [pin, setPin] = useState("");
  const [hasLetters, setLetters] = useState(false);
  const field = useRef<HTMLInputElement>(null);
  const type = (digit: string): void => setPin((pin + digit).slice(0, LONGEST_PIN));
  const enter = (): void => {
    if (pin !== "") onPin(pin);
  };
  return (
    <section class="pin-pad">
      <form
        class="keypad"
        onSubmit={(event) => {
          event.preventDefault();
          enter();
        }}
      >
        <input
          ref={field}
          class="keypad-field"
          type="password"
          inputMode={hasLetters ? "text" : "none"}
          autocomplete="off"
          maxLength={LONGEST_PIN}
          aria-label={say("pin.field", { name })}
          value={pin}
          onInput={(event) => setPin(event.currentTarget.value)}
        />
        <div class="keypad-keys">
          {DIGITS.map((digit) => (
            <button key={digit} type="button" class="key" onClick={() => type(digit)}>
              {digit}
            </button>
          ))}
          <button type="button" class="key wide" onClick={() => setPin(pin.slice(0, -1))}>
            {say("enrol.rubout")}
          </button>
          <button type="button" class="key" onClick={() => type("0")}>
            0
          </button>
        </div>
        <button
          type="button"
          class="key"
          aria-pressed={hasLetters}
          onClick={() => {
            setLetters(!hasLetters);
            field.current?.focus();
          }}
        >
          {say("pin.letters")}
        </button>
        <button type="submit" class="key main" disabled={pin === ""}>
          {say("pin.act")}
        </button>
      </form>
      <div class="pin-words">
        <p>{say(hasContact ? "pin.what" : "pin.later")}</p>
        <button type="button" class="key" onClick={onBack}>
          {say("pin.back")}
        </button>
        {hasContact && (
          <button type="button" class="key" onClick={onSetPin}>
            {say("set_pin.open")}
          </button>
        )}
        <button type="button" class="key" onClick={onWithout}>
          {say("pin.without")}
        </button>
        <p>{say("pin.without_what")}</p>
      </div>
    </section>
  );
}
