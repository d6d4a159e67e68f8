// SPDX-License-Identifier: Apache-2.0
// A lot of bought-in components comes in: which, the count, and only then what the note says.
import { useState } from "preact/hooks";
import { CountEntry } from "../widgets/count_entry.js";
import { say } from "../words/say.js";
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
  const [counted, setCounted] = useState<number>();
  const set = (name: keyof typeof EMPTY) => (value: string) => setTexts({ ...texts, [name]: value });
  const component = wordOf(texts.component);
  const known = new Set(lines.flatMap((line) => (line.what === "components" ? [line.body.component] : [])));
  const store = (stated: number | undefined): void => {
    const { supplier, order, note } = texts;
    onStore({
      component,
      lot: texts.lot.trim(),
      counted: counted ?? 0,
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
  if (counted === undefined) {
    return (
      <CountEntry
        key="counted"
        title={say("goods.count_components")}
        what={say("goods.count_first")}
        digits={MOST_DIGITS}
        act={say("count.next")}
        onCounted={setCounted}
      />
    );
  }
  return (
    <section class="goods-form">
      <div class="fields">
        <TextField label={say("goods.order")} value={texts.order} onChange={set("order")} />
        <TextField label={say("goods.note")} value={texts.note} onChange={set("note")} />
      </div>
      <CountEntry
        key="stated"
        title={say("goods.stated_components")}
        what={say("goods.stated_what")}
        digits={MOST_DIGITS}
        act={say("goods.store")}
        onCounted={store}
      >
        <button type="button" class="key" onClick={() => store(undefined)}>
          {say("goods.states_none")}
        </button>
      </CountEntry>
    </section>
  );
}

/** The word a component is known by in records: small letters, digits and _; '' where nothing of that is left. */
export function wordOf(typed: string): string {
  const word = typed
    .normalize("NFKD")
    .toLowerCase()
    .replace(/ß/g, "ss")
    .replace(/\p{M}/gu, "")
    .replace(/[^a-z0-9]+/g, "_")
    .replace(/^[^a-z]+|_+$/g, "");
  return word.slice(0, 64);
}
