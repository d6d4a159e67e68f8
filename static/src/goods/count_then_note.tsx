// SPDX-License-Identifier: Apache-2.0
// What came is counted, and only then stands what the note says of it.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { CountEntry } from "../widgets/count_entry.js";
import { say } from "../words/say.js";

export interface CountThenNoteProps {
  readonly count: "goods.count_bars" | "goods.count_components";
  readonly stated: "goods.stated_bars" | "goods.stated_components";
  readonly digits: number;
  /** `stated` is undefined where the note says no number. */
  readonly onCounted: (counted: number, stated: number | undefined) => void;
  /** What else is read from the note. */
  readonly children: ComponentChildren;
}

export function CountThenNote({ count, stated, digits, onCounted, children }: CountThenNoteProps) {
  const [counted, setCounted] = useState<number>();
  if (counted === undefined) {
    return (
      <CountEntry
        key="counted"
        title={say(count)}
        what={say("goods.count_first")}
        digits={digits}
        act={say("count.next")}
        onCounted={setCounted}
      />
    );
  }
  return (
    <section class="goods-form">
      <div class="fields">{children}</div>
      <CountEntry
        key="stated"
        title={say(stated)}
        what={say("goods.stated_what")}
        digits={digits}
        act={say("goods.store")}
        onCounted={(said) => onCounted(counted, said)}
      >
        <button type="button" class="key" onClick={() => onCounted(counted, undefined)}>
          {say("goods.states_none")}
        </button>
      </CountEntry>
    </section>
  );
}
