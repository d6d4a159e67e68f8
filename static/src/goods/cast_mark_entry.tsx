// SPDX-License-Identifier: Apache-2.0
// Somebody reads the bar ends and says what stands on them: a positive answer, of so many bars.
import { useState } from "preact/hooks";
import type { RecordOf } from "../records/kinds.js";
import { CountEntry } from "../widgets/count_entry.js";
import { say } from "../words/say.js";
import { TextField } from "./fields.js";
import type { BarsLine } from "./stock.js";

export type CastMarkBody = RecordOf<"cast_mark_read">["body"];

export interface CastMarkEntryProps {
  readonly line: BarsLine;
  readonly onStore: (body: CastMarkBody) => void;
}

const MOST_DIGITS = 5;

export function CastMarkEntry({ line, onStore }: CastMarkEntryProps) {
  const [bars, setBars] = useState<number>();
  const [read, setRead] = useState("");
  const { cast } = line.body;
  if (bars === undefined) {
    return (
      <CountEntry
        title={say("goods.ends_title")}
        what={say("goods.ends_what")}
        digits={MOST_DIGITS}
        act={say("count.next")}
        check={(count) => (count === 0 ? say("goods.ends_none") : undefined)}
        onCounted={setBars}
      />
    );
  }
  const answer = (agrees: boolean): void => {
    const other = read.trim();
    onStore({ receipt: line.id, bars, agrees, ...(agrees || other === "" ? {} : { read: other }) });
  };
  return (
    <section class="goods-form">
      <h1>{say("goods.mark_title", { count: bars })}</h1>
      <p class="cast-mark">{cast}</p>
      <div class="pair">
        <button type="button" class="key main" onClick={() => answer(true)}>
          {say("goods.mark_yes")}
        </button>
        <button type="button" class="key" onClick={() => answer(false)}>
          {say("goods.mark_no")}
        </button>
      </div>
      <TextField label={say("goods.mark_other")} value={read} onChange={setRead} />
    </section>
  );
}
