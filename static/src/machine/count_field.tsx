// SPDX-License-Identifier: Apache-2.0
// One count, typed on keys for a glove into a field that opens empty.
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { say } from "../words/say.js";

export interface CountFieldProps {
  readonly title: string;
  readonly what: string;
  /** What the key that takes the number says. */
  readonly act: string;
  /** Why a number cannot be taken; undefined when it can. */
  readonly check?: (count: number) => string | undefined;
  readonly onCounted: (count: number) => void;
  /** Further keys below the field. */
  readonly children?: ComponentChildren;
}

const DIGITS = ["1", "2", "3", "4", "5", "6", "7", "8", "9"];
const MOST_DIGITS = 6;

export function CountField({ title, what, act, check, onCounted, children }: CountFieldProps) {
  const [typed, setTyped] = useState("");
  const [problem, setProblem] = useState<string>();
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), []);
  const take = (text: string): void =>
    setTyped(
      text
        .replace(/\D/g, "")
        .replace(/^0+(?=\d)/, "")
        .slice(0, MOST_DIGITS),
    );
  const enter = (): void => {
    const found = typed === "" ? say("count.missing") : check?.(Number(typed));
    setProblem(found);
    if (found === undefined) onCounted(Number(typed));
  };
  const key = (digit: string) => (
    <button key={digit} type="button" class="key" onClick={() => take(typed + digit)}>
      {digit}
    </button>
  );
  return (
    <section class="count-field">
      <div class="count-asked">
        <h1>{title}</h1>
        <p>{what}</p>
        <input
          ref={field}
          class="keypad-field"
          inputMode="none"
          autocomplete="off"
          aria-label={title}
          aria-invalid={problem !== undefined}
          aria-describedby={problem === undefined ? undefined : "count-problem"}
          value={typed}
          onInput={(event) => take(event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key === "Enter") enter();
          }}
        />
        {problem !== undefined && (
          <p class="problem" id="count-problem" role="alert">
            {problem}
          </p>
        )}
        <button type="button" class="key main" onClick={enter}>
          {act}
        </button>
        {children}
      </div>
      <div class="count-pad">
        {DIGITS.map(key)}
        <span />
        {key("0")}
        <button type="button" class="key is-word" onClick={() => take(typed.slice(0, -1))}>
          {say("enrol.rubout")}
        </button>
      </div>
    </section>
  );
}
