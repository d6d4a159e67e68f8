// SPDX-License-Identifier: Apache-2.0
// A batch begins: its part, the number on its card, how many pieces. It keeps the revision that is newest now.
import { useState } from "preact/hooks";
import type { PartDefinition } from "../records/kinds.js";
import type { BatchLine, Tablet } from "../sync/contract.js";
import { Keypad } from "../widgets/keypad.js";
import { day } from "../words/measures.js";
import { inWords, say } from "../words/say.js";
import { bearing } from "./known_batches.js";
import { newestParts } from "./new_batch.js";

const LONGEST_NUMBER = 200;
const MOST_DIGITS = 5;

export interface OpenBatchProps {
  readonly tablet: Tablet;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
  readonly batches: readonly BatchLine[];
  readonly onOpened: (batch: string) => void;
  readonly onBack: () => void;
}

export function OpenBatch({ tablet, definitions, batches, onOpened, onBack }: OpenBatchProps) {
  const parts = newestParts(definitions);
  const [chosen, setChosen] = useState(parts.length === 1 ? parts[0]?.definition : undefined);
  const [number, setNumber] = useState("");
  const [pieces, setPieces] = useState("");
  const [problem, setProblem] = useState<string>();
  const [isOpening, setOpening] = useState(false);
  const twin = bearing(batches, number)[0];
  const open = async (): Promise<void> => {
    const missing =
      chosen === undefined
        ? "new_batch.part_missing"
        : number.trim() === ""
          ? "new_batch.number_missing"
          : Number(pieces) < 1
            ? "new_batch.pieces_missing"
            : undefined;
    setProblem(missing && say(missing));
    if (missing !== undefined || chosen === undefined) return;
    setOpening(true);
    const answer = await tablet.add({
      kind: "batch_opened",
      v: 1,
      definition: chosen,
      body: { number: number.trim(), pieces: Number(pieces) },
    });
    setOpening(false);
    if (answer.stored) onOpened(answer.record.id);
    else setProblem(`${say("tally.not_stored")}. ${say("tally.not_stored_do")}`);
  };
  return (
    <main class="choice open-batch">
      <h1>{say("new_batch.title")}</h1>
      {parts.length === 0 && <p class="empty">{say("new_batch.no_part")}</p>}
      <section>
        <h2>{say("new_batch.part")}</h2>
        <ul class="tiles">
          {parts.map(({ definition, part }) => (
            <li key={definition}>
              <button
                type="button"
                class="key tile"
                aria-pressed={chosen === definition}
                onClick={() => setChosen(definition)}
              >
                <strong>{part.part}</strong>
                <span>{inWords(part.name)}</span>
                <small>{say("new_batch.revision", { revision: part.revision })}</small>
              </button>
            </li>
          ))}
        </ul>
      </section>
      <label class="field">
        <span>{say("new_batch.number")}</span>
        <input
          value={number}
          maxLength={LONGEST_NUMBER}
          autocomplete="off"
          autocapitalize="characters"
          aria-describedby="number-hint"
          onInput={(event) => setNumber(event.currentTarget.value)}
        />
        <small id="number-hint">
          {twin === undefined
            ? say("new_batch.number_hint")
            : say("new_batch.number_twice", { number: twin.number, when: day(twin.opened_at) })}
        </small>
      </label>
      <section>
        <h2>{say("new_batch.pieces")}</h2>
        <Keypad
          value={pieces}
          onChange={setPieces}
          digits={MOST_DIGITS}
          label={say("new_batch.pieces")}
          onEnter={() => void open()}
        />
      </section>
      {problem !== undefined && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      <div class="begin">
        <button type="button" class="key main" disabled={isOpening} onClick={() => void open()}>
          {say("new_batch.act")}
        </button>
        <button type="button" class="key" onClick={onBack}>
          {say("nav.batches")}
        </button>
      </div>
    </main>
  );
}
