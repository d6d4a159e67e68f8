// SPDX-License-Identifier: Apache-2.0
// Pieces that are not where they belong: foreign ones among these, and pieces of this batch that turned up late.
import { useState } from "preact/hooks";
import { CountEntry } from "../widgets/count_entry.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { lookName } from "../words/looks.js";
import { say } from "../words/say.js";
import type { TrayCard } from "./look_state.js";
import "./look_pages.css";
import "./trays.css";

export interface StraysPageProps {
  readonly batchNumber: string;
  readonly look: string;
  readonly cards: readonly TrayCard[];
  readonly onForeign: (pieces: number, tray: string | undefined) => Promise<boolean>;
  readonly onFound: (pieces: number, where: string) => Promise<boolean>;
  readonly onBack: () => void;
}

type Stray = "foreign" | "found";

export function StraysPage(props: StraysPageProps) {
  const [stray, setStray] = useState<Stray>();
  const [tray, setTray] = useState("");
  const [where, setWhere] = useState("");
  const [stored, setStored] = useState<boolean>();
  const store = async (pieces: number): Promise<void> => {
    const isStored = await (stray === "foreign"
      ? props.onForeign(pieces, tray === "" ? undefined : tray)
      : props.onFound(pieces, where.trim()));
    setStored(isStored);
    if (isStored) setStray(undefined);
  };
  const check = (count: number): string | undefined => {
    if (count === 0) return say("rework.none_counted");
    return stray === "found" && where.trim() === "" ? say("strays.where_missing") : undefined;
  };
  const trays = props.cards.flatMap((card) => [
    ...card.open.map((one) => one.tray),
    ...card.closed.map((one) => one.tray),
  ]);
  const begin = (what: Stray): void => {
    setStored(undefined);
    setStray(what);
  };
  return (
    <main class="choice strays">
      <p class="on-bench">
        {props.batchNumber} <small>{lookName(props.look)}</small>
      </p>
      {stored === true && (
        <p class="done" role="status">
          {say("strays.stored")}
        </p>
      )}
      {stored === false && <NotStoredLine />}
      {stray === undefined ? (
        <>
          <h1>{say("look.strays")}</h1>
          <div class="begin">
            <button type="button" class="key" onClick={() => begin("foreign")}>
              {say("strays.foreign")}
              <small>{say("strays.foreign_what")}</small>
            </button>
            <button type="button" class="key" onClick={() => begin("found")}>
              {say("strays.found")}
              <small>{say("strays.found_what")}</small>
            </button>
          </div>
        </>
      ) : (
        <>
          {stray === "foreign" ? (
            <label class="field">
              <span>{say("strays.tray")}</span>
              <select value={tray} onChange={(event) => setTray(event.currentTarget.value)}>
                <option value="">{say("strays.no_tray")}</option>
                {trays.map((one) => (
                  <option key={one.id} value={one.id}>
                    {say("tally.tray", { number: one.number })}
                  </option>
                ))}
              </select>
            </label>
          ) : (
            <label class="field">
              <span>{say("strays.where")}</span>
              <input value={where} maxLength={200} onInput={(event) => setWhere(event.currentTarget.value)} />
            </label>
          )}
          <CountEntry
            title={say(stray === "foreign" ? "strays.foreign_title" : "strays.found_title")}
            what={say(stray === "foreign" ? "strays.foreign_do" : "strays.found_do")}
            digits={4}
            act={say("count.store")}
            check={check}
            onCounted={(pieces) => void store(pieces)}
          />
        </>
      )}
      <button
        type="button"
        class="key not-yet"
        onClick={stray === undefined ? props.onBack : () => setStray(undefined)}
      >
        {say(stray === undefined ? "nav.trays" : "look.strays")}
      </button>
    </main>
  );
}
