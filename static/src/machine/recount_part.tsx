// SPDX-License-Identifier: Apache-2.0
// The same pieces once more: by hand, by the machine's counter, by weight. The first count is not shown here.
import { useState } from "preact/hooks";
import { clock } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import { CountField } from "./count_field.js";
import type { Finish, RecountBody } from "./stints.js";
import { WeighPart } from "./weigh_part.js";

export interface RecountPartProps {
  readonly operation: number;
  readonly finishes: readonly Finish[];
  readonly onCounted: (body: RecountBody) => void;
}

/** What can be counted once more, and how. */
const WAYS = [
  { how: "hand", of: "out", name: "recount.hand_out", title: "counts.out" },
  { how: "hand", of: "in", name: "recount.hand_in", title: "counts.in" },
  { how: "hand", of: "scrap", name: "recount.hand_scrap", title: "counts.scrap" },
  { how: "counter", of: "made", name: "recount.counter", title: "recount.counter_title" },
  { how: "weighed", of: "out", name: "recount.weighed", title: "counts.out" },
] as const satisfies readonly (Pick<RecountBody, "how" | "of"> & {
  readonly name: Key;
  readonly title: Key;
})[];

export function RecountPart({ operation, finishes, onCounted }: RecountPartProps) {
  const [chosen, setChosen] = useState(finishes.length === 1 ? finishes[0] : undefined);
  const [way, setWay] = useState<(typeof WAYS)[number]>();
  if (chosen === undefined) {
    return (
      <section class="samples">
        <h1>{say("recount.which")}</h1>
        <div class="tell-keys">
          {finishes.map((finish) => (
            <button key={finish.id} type="button" class="key" onClick={() => setChosen(finish)}>
              {say("recount.counted_at", { time: clock(finish.at) })}
            </button>
          ))}
        </div>
      </section>
    );
  }
  if (way === undefined) {
    return (
      <section class="samples">
        <h1>{say("recount.how")}</h1>
        <div class="tell-keys">
          {WAYS.map((one) => (
            <button key={one.name} type="button" class="key" onClick={() => setWay(one)}>
              {say(one.name)}
            </button>
          ))}
        </div>
      </section>
    );
  }
  const { how, of } = way;
  const { started, look } = chosen.body;
  const body = { started, operation, of, how, ...(look === undefined ? {} : { look }) };
  if (how === "weighed")
    return <WeighPart onWeighed={(pieces, weighing) => onCounted({ ...body, pieces, weighing })} />;
  return (
    <CountField
      title={say(way.title)}
      what={say(how === "counter" ? "recount.counter_what" : "counts.out_what")}
      act={say("check.store")}
      onCounted={(pieces) => onCounted({ ...body, pieces })}
    />
  );
}
