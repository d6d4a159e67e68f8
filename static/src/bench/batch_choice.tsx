// SPDX-License-Identifier: Apache-2.0
import { useState } from "preact/hooks";
import type { BatchLine } from "../sync/contract.js";
import { useScans } from "../widgets/scans.js";
import { day, moment } from "../words/measures.js";
import { say } from "../words/say.js";
import { inWork, numbered, withNumber } from "./known_batches.js";

export interface BatchChoiceProps {
  readonly batches: readonly BatchLine[];
  readonly asOf: number | undefined;
  readonly onChosen: (batch: BatchLine) => void;
  /** Begin a batch that is not there yet. */
  readonly onOpen: () => void;
  /** To what comes in at the gate. */
  readonly onGoods: () => void;
  readonly onPedal: () => void;
}

/** The first step at the bench: which batch lies here, by the number on its card. */
export function BatchChoice({ batches, asOf, onChosen, onOpen, onGoods, onPedal }: BatchChoiceProps) {
  const [typed, setTyped] = useState("");
  const shown = typed === "" ? inWork(batches) : withNumber(batches, typed);
  const left = batches.length - shown.length;
  useScans((text) => {
    const only = numbered(batches, text);
    if (only === undefined) setTyped(text);
    else onChosen(only);
  });
  return (
    <main class="choice">
      <h1>{say("batches.title")}</h1>
      <label class="field">
        <span>{say("batches.filter")}</span>
        <input
          value={typed}
          autocomplete="off"
          autocapitalize="characters"
          enterkeyhint="go"
          aria-describedby="filter-hint"
          onInput={(event) => setTyped(event.currentTarget.value)}
          onKeyDown={(event) => {
            const only = shown.length === 1 ? shown[0] : undefined;
            if (event.key === "Enter" && only !== undefined) onChosen(only);
          }}
        />
        <small id="filter-hint">{say("batches.filter_hint")}</small>
      </label>
      {batches.length === 0 && <p class="empty">{say("batches.none")}</p>}
      {typed !== "" && batches.length > 0 && shown.length === 0 && (
        <p class="empty">{say("batches.none_match", { text: typed })}</p>
      )}
      <ul class="tiles">
        {shown.map((line) => (
          <li key={line.batch}>
            <button type="button" class="key tile" onClick={() => onChosen(line)}>
              <strong>{line.number}</strong>
              <span>{line.part}</span>
              <small>{say("batches.opened", { when: day(line.opened_at) })}</small>
              {line.released === true && <small>{say("batches.is_released")}</small>}
            </button>
          </li>
        ))}
      </ul>
      {typed === "" && left > 0 && <p>{say("batches.left", { count: left })}</p>}
      <div class="begin">
        <button type="button" class="key" onClick={onOpen}>
          {say("new_batch.begin")}
        </button>
        <button type="button" class="key" onClick={onGoods}>
          {say("goods.title")}
        </button>
        <button type="button" class="key" onClick={onPedal}>
          {say("pedal.key")}
        </button>
      </div>
      <p class="as-of">
        {asOf === undefined ? say("batches.as_of_never") : say("batches.as_of", { when: moment(asOf) })}
      </p>
    </main>
  );
}
