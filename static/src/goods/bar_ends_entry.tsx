// SPDX-License-Identifier: Apache-2.0
// Bar ends go back to be melted by alloy: which container, and how much, weighed or counted.
import { useState } from "preact/hooks";
import type { RecordOf } from "../records/kinds.js";
import { say } from "../words/say.js";
import { ChoiceField, TextField } from "./fields.js";

export type BarEndsBody = RecordOf<"bar_ends_collected">["body"];

export interface BarEndsEntryProps {
  readonly alloys: readonly string[];
  readonly onStore: (body: BarEndsBody) => void;
}

type Measure = "mass" | "pieces";

export function BarEndsEntry({ alloys, onStore }: BarEndsEntryProps) {
  const [alloy, setAlloy] = useState("");
  const [container, setContainer] = useState("");
  const [measure, setMeasure] = useState<Measure>("mass");
  const [amount, setAmount] = useState("");
  const [isMissing, setMissing] = useState(false);
  const store = (): void => {
    const size = Number(amount.trim().replace(",", "."));
    const whole = Math.round(measure === "mass" ? size * 1000 : size);
    const isIncomplete = alloy.trim() === "" || container.trim() === "" || !(whole >= 1);
    setMissing(isIncomplete);
    if (isIncomplete) return;
    const names = { alloy: alloy.trim(), container: container.trim() };
    onStore(measure === "mass" ? { ...names, mass_g: whole } : { ...names, pieces: whole });
  };
  return (
    <section class="goods-form">
      <h1>{say("goods.bar_ends")}</h1>
      <p>{say("goods.bar_ends_what")}</p>
      <div class="fields">
        <TextField label={say("goods.alloy")} value={alloy} known={alloys} onChange={setAlloy} />
        <TextField label={say("goods.container")} value={container} onChange={setContainer} />
        <ChoiceField
          label={say("goods.measured")}
          value={measure}
          of={[
            ["mass", say("goods.measured_mass")],
            ["pieces", say("goods.measured_pieces")],
          ]}
          onChange={setMeasure}
        />
        <TextField
          label={say(measure === "mass" ? "goods.measured_mass" : "goods.measured_pieces")}
          value={amount}
          isNumber
          onChange={setAmount}
        />
      </div>
      {isMissing && (
        <p class="problem" role="alert">
          {say("goods.bar_ends_missing")}
        </p>
      )}
      <div class="begin">
        <button type="button" class="key main" onClick={store}>
          {say("goods.store")}
        </button>
      </div>
    </section>
  );
}
