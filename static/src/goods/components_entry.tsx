// SPDX-License-Identifier: Apache-2.0
// A lot of bought-in components comes in: which, the count, and only then what the note says.
import { useState } from "preact/hooks";
import { componentWord } from "../records/component_word.js";
import { say } from "../words/say.js";
import { CountThenNote } from "./count_then_note.js";
import { filledIn, TextField } from "./fields.js";
import type { ComponentsBody, ReceiptLine } from "./stock.js";

const MOST_DIGITS = 7;

export interface ComponentsEntryProps {
  readonly lines: readonly ReceiptLine[];
  readonly onStore: (body: ComponentsBody) => void;
}

const EMPTY = { component: "", lot: "", supplier: "", order: "", note: "" };

export function ComponentsEntry({ lines, onStore }: ComponentsEntryProps) {
  const [texts, setTexts] = useState(EMPTY);
  const [isRead, setRead] = useState(false);
  const [isMissing, setMissing] = useState(false);
  const set = (name: keyof typeof EMPTY) => (value: string) => setTexts({ ...texts, [name]: value });
  const component = componentWord(texts.component);
  const known = new Set(lines.flatMap((line) => (line.what === "components" ? [line.body.component] : [])));
  const store = (counted: number, stated: number | undefined): void => {
    const { supplier, order, note } = texts;
    onStore({
      component,
      lot: texts.lot.trim(),
      counted,
      ...(stated === undefined ? {} : { stated }),
      ...filledIn({ supplier, order, note }),
    });
  };
  const go = (): void => {
    const isIncomplete = component === "" || texts.lot.trim() === "";
    setMissing(isIncomplete);
    setRead(!isIncomplete);
  };
  if (!isRead) {
    return (
      <section class="goods-form">
        <h1>{say("goods.components_came")}</h1>
        <div class="fields">
          <TextField
            label={say("goods.component")}
            value={texts.component}
            known={[...known]}
            onChange={set("component")}
          />
          <TextField label={say("goods.lot")} value={texts.lot} onChange={set("lot")} />
          <TextField label={say("goods.supplier")} value={texts.supplier} onChange={set("supplier")} />
        </div>
        {isMissing && (
          <p class="problem" role="alert">
            {say("goods.component_missing")}
          </p>
        )}
        <div class="begin">
          <button type="button" class="key main" onClick={go}>
            {say("goods.to_count")}
          </button>
        </div>
      </section>
    );
  }
  return (
    <CountThenNote
      count="goods.count_components"
      stated="goods.stated_components"
      digits={MOST_DIGITS}
      onCounted={store}
    >
      <TextField label={say("goods.order")} value={texts.order} onChange={set("order")} />
      <TextField label={say("goods.note")} value={texts.note} onChange={set("note")} />
    </CountThenNote>
  );
}
