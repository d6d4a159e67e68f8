// SPDX-License-Identifier: Apache-2.0
// One number, counted by somebody and typed before any earlier figure is shown.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { say } from "../words/say.js";
import { Keypad } from "./keypad.js";
import "./count_entry.css";

export interface CountEntryProps {
  readonly title: string;
  readonly what: string;
  readonly digits: number;
  /** What the main key says. */
  readonly act: string;
  /** Why a number cannot be taken; undefined when it can. */
  readonly check?: (count: number) => string | undefined;
  readonly onCounted: (count: number) => void;
  /** Further keys beside the main one. */
  readonly children?: ComponentChildren;
}

export function CountEntry({ title, what, digits, act, check, onCounted, children }: CountEntryProps) {
  const [typed, setTyped] = useState("");
  const [problem, setProblem] = useState<string>();
  const enter = (): void => {
    const found = typed === "" ? say("count.missing") : check?.(Number(typed));
    setProblem(found);
    if (found === undefined) onCounted(Number(typed));
  };
  return (
    <section class="count-entry">
      <div>
        <h1>{title}</h1>
        <p>{what}</p>
        <div class="pair">
          <button type="button" class="key main" onClick={enter}>
            {act}
          </button>
          {children}
        </div>
      </div>
      <Keypad
        value={typed}
        onChange={setTyped}
        digits={digits}
        label={title}
        problem={problem}
        onEnter={enter}
      />
    </section>
  );
}
