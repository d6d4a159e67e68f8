// SPDX-License-Identifier: Apache-2.0
// What is left of bars goes back to the rack: marked again with the cast before it leaves the saw.
import { useState } from "preact/hooks";
import type { RecordOf } from "../records/kinds.js";
import { CountEntry } from "../widgets/count_entry.js";
import { say } from "../words/say.js";
import { asNumber, ChoiceField, TextField } from "./fields.js";
import type { Issue } from "./stock.js";

export type RemnantBody = RecordOf<"remnant_returned">["body"];

export interface RemnantEntryProps {
  readonly issues: readonly Issue[];
  readonly onStore: (body: RemnantBody) => void;
}

export function RemnantEntry({ issues, onStore }: RemnantEntryProps) {
  const [receipt, setReceipt] = useState(issues.at(-1)?.body.receipt ?? "");
  const [typed, setTyped] = useState("");
  const [bars, setBars] = useState<number>();
  const of = new Map(issues.map(({ body, line }) => [body.receipt, line?.body.cast ?? body.receipt]));
  const length = asNumber(typed);
  if (bars === undefined || length === undefined) {
    return (
      <section class="goods-form">
        <div class="fields">
          <ChoiceField label={say("goods.cast")} value={receipt} of={[...of]} onChange={setReceipt} />
          <TextField label={say("saw.remnant_length")} value={typed} isNumber onChange={setTyped} />
        </div>
        <CountEntry
          title={say("saw.remnant_title")}
          what={say("saw.remnant_what")}
          digits={4}
          act={say("count.next")}
          check={(count) => (count === 0 || length === undefined ? say("saw.remnant_missing") : undefined)}
          onCounted={setBars}
        />
      </section>
    );
  }
  const store = (marked: boolean): void => onStore({ receipt, bars, length, marked });
  return (
    <section class="goods-form">
      <h1>{say("saw.marked_title", { cast: of.get(receipt) ?? "" })}</h1>
      <div class="pair">
        <button type="button" class="key main" onClick={() => store(true)}>
          {say("saw.marked_yes")}
        </button>
        <button type="button" class="key" onClick={() => store(false)}>
          {say("saw.marked_no")}
        </button>
      </div>
    </section>
  );
}
