// SPDX-License-Identifier: Apache-2.0
// The stop: entries that are not in the store stay in sight, and the ways out stand beside them.
import type { PartDefinition } from "../records/kinds.js";
import { Rescue } from "../widgets/rescue.js";
import { say } from "../words/say.js";
import type { Entry, Unstored } from "./keeping.js";
import { judgedWord, wordOf } from "./names.js";

export interface NotStoredProps {
  readonly definition: PartDefinition;
  readonly entries: readonly Unstored[];
  readonly tray: number;
  readonly onTryAgain: () => void;
  readonly exportJournal: () => Promise<Blob>;
}

export function NotStored(props: NotStoredProps) {
  return (
    <section class="not-stored" role="alert">
      <h2>{say("tally.not_stored")}</h2>
      <p>{say("tally.not_stored_what", { count: props.entries.length })}</p>
      <ul>
        {props.entries.map(({ entry, kept }, place) => (
          <li key={place}>
            {textOf(props.definition, entry, props.tray)}
            {kept && <small>{say("tally.kept")}</small>}
          </li>
        ))}
      </ul>
      <p>{say("tally.not_stored_do")}</p>
      <div class="ways-out">
        <button type="button" class="key" onClick={() => props.onTryAgain()}>
          {say("tally.try_again")}
        </button>
        <Rescue exportJournal={props.exportJournal} />
      </div>
    </section>
  );
}

function textOf(definition: PartDefinition, entry: Entry, tray: number): string {
  if (entry.act === "close") return say("end.title", { number: tray });
  if (entry.act === "leave") return say("leave.title", { number: tray });
  if (entry.act === "rest") return say("rest.told");
  const what = "verdict" in entry ? judgedWord(entry.verdict) : wordOf(definition, entry.find.defect);
  const values = { what, tray };
  if (entry.act === "undo" || entry.act === "unjudge") return say("tally.entry_undo", values);
  return entry.act === "repeat" ? say("tally.entry_repeat", values) : say("tally.entry", values);
}
