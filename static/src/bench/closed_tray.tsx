// SPDX-License-Identifier: Apache-2.0
// A tray that is closed: what whoever works here entered in it can still be taken back, one by one and with a reason.
// Nothing is erased by it, and no lock and no hold is lifted.
import { useState } from "preact/hooks";
import { ClassMark, type MarkShape } from "../widgets/class_mark.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { moment } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import "./look_pages.css";
import "./trays.css";

/** Why an entry is taken back, as the record says it; anything else is written out. */
const REASONS: Readonly<Record<string, Key>> = {
  wrong_key: "closed.wrong_key",
  wrong_piece: "closed.wrong_piece",
  counted_twice: "closed.counted_twice",
};

/** An entry of a closed tray: a find, a judgement, or the closing itself. */
export interface ClosedEntry {
  readonly id: string;
  readonly what: "find" | "judgement" | "closing";
  readonly says: string;
  readonly at: number;
  /** Taken back by somebody who is not proven yet: it stands until then. */
  readonly isTakenBack: boolean;
  readonly shape?: MarkShape;
}

export interface ClosedTrayProps {
  readonly number: number;
  /** The present person's own entries, in the order they were made. */
  readonly entries: readonly ClosedEntry[];
  /** True when it was stored. */
  readonly onTakeBack: (entry: ClosedEntry, why: string) => Promise<boolean>;
  readonly onBack: () => void;
}

export function ClosedTray({ number, entries, onTakeBack, onBack }: ClosedTrayProps) {
  const [chosen, setChosen] = useState<ClosedEntry>();
  const [isNotStored, setNotStored] = useState(false);
  const takeBack = async (entry: ClosedEntry, why: string): Promise<void> => {
    setNotStored(!(await onTakeBack(entry, why)));
    setChosen(undefined);
  };
  return (
    <main class="choice closed-tray">
      {isNotStored && <NotStoredLine />}
      {chosen === undefined ? (
        <>
          <h1>{say("closed.title", { number })}</h1>
          <p>{say(entries.length === 0 ? "closed.none" : "closed.what")}</p>
          <ul class="closed-entries">
            {entries.map((entry) => (
              <li key={entry.id}>
                <Entry {...entry} />
                {entry.isTakenBack ? (
                  <small>{say("closed.not_proven")}</small>
                ) : (
                  <button type="button" class="key" onClick={() => setChosen(entry)}>
                    {say("closed.take_back")}
                  </button>
                )}
              </li>
            ))}
          </ul>
        </>
      ) : (
        <Why entry={chosen} onWhy={(why) => void takeBack(chosen, why)} />
      )}
      <button
        type="button"
        class="key not-yet"
        onClick={chosen === undefined ? onBack : () => setChosen(undefined)}
      >
        {say(chosen === undefined ? "nav.trays" : "closed.leave_it")}
      </button>
    </main>
  );
}

function Entry({ says, shape, at }: ClosedEntry) {
  return (
    <p>
      {shape !== undefined && <ClassMark shape={shape} />} <strong>{says}</strong> <small>{moment(at)}</small>
    </p>
  );
}

function Why({ entry, onWhy }: { readonly entry: ClosedEntry; readonly onWhy: (why: string) => void }) {
  const [text, setText] = useState("");
  const what = {
    find: "closed.find_what",
    judgement: "closed.find_what",
    closing: "closed.closing_what",
  } as const;
  return (
    <section>
      <h1>{say("closed.why")}</h1>
      <Entry {...entry} />
      <p>{say(what[entry.what])}</p>
      <div class="pair">
        {Object.entries(REASONS).map(([why, key]) => (
          <button key={why} type="button" class="key" onClick={() => onWhy(why)}>
            {say(key)}
          </button>
        ))}
      </div>
      <label class="field">
        <span>{say("closed.other_reason")}</span>
        <input value={text} maxLength={200} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <button type="button" class="key" disabled={text.trim() === ""} onClick={() => onWhy(text.trim())}>
        {say("closed.take_back")}
      </button>
    </section>
  );
}
