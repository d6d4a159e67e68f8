// SPDX-License-Identifier: Apache-2.0
// The keys of the defect list: a road's first step, from a finger to a record.
import { useState } from "preact/hooks";
import type { DefectWord, PartDefinition } from "../records/kinds.js";
import { classIn } from "../folds/tally.js";
import { ClassMark } from "../widgets/class_mark.js";
import { PressKey } from "../widgets/press_key.js";
import { number } from "../words/measures.js";
import { say } from "../words/say.js";
import { layKeys, pagesOf } from "./key_layout.js";
import { wordOf } from "./names.js";
import type { PadSize } from "./pad_size.js";
import type { LastAct } from "./tally_session.js";
import { zoneDecides } from "./word_class.js";

export interface DefectPadProps {
  readonly definition: PartDefinition;
  readonly size: PadSize;
  readonly marks: ReadonlyMap<string, number>;
  readonly last: LastAct | undefined;
  readonly waiting: string | undefined;
  readonly onPress: (word: DefectWord, at: number) => void;
}

export function DefectPad(props: DefectPadProps) {
  const { definition, size } = props;
  const [turned, setTurned] = useState(0);
  const pages = pagesOf(layKeys(definition.defects, size.columns), size.rowsAtOnce);
  const page = Math.min(turned, pages.length - 1);
  const rows = pages[page] ?? [];
  return (
    <section class="pad" aria-label={say("tally.pad")}>
      {rows.map((row, place) => (
        <div key={place} class={`pad-row${row.critical ? " is-critical" : ""}`}>
          {row.places.map((word, column) =>
            word === undefined ? (
              <span key={column} class="pad-gap" />
            ) : (
              <DefectKey key={word.defect} word={word} pad={props} />
            ),
          )}
          {Array.from({ length: size.columns - row.places.length }, (_, gap) => (
            <span key={`gap ${gap}`} class="pad-gap" />
          ))}
        </div>
      ))}
      {pages.length > 1 && (
        <button type="button" class="key turn" onClick={() => setTurned((page + 1) % pages.length)}>
          {say("tally.more_words")} <small>{say("tally.page", { page: page + 1, pages: pages.length })}</small>
        </button>
      )}
    </section>
  );
}

function DefectKey({ word, pad }: { readonly word: DefectWord; readonly pad: DefectPadProps }) {
  const count = pad.marks.get(word.defect) ?? 0;
  const name = wordOf(pad.definition, word.defect);
  const shape = zoneDecides(word, pad.definition) ? "by_zone" : classIn(word, "");
  return (
    <PressKey
      class={`defect-key${pad.waiting === word.defect ? " is-waiting" : ""}`}
      name={`${name}, ${say("tally.key_count", { count })}`}
      onPress={(at) => pad.onPress(word, at)}
    >
      <KeyWord text={name} />
      <ClassMark shape={shape} />
      <span class="key-said" aria-hidden="true">
        {saidOn(word.defect, pad.last)}
      </span>
      <span class="key-count" aria-hidden="true">
        {count > 0 ? number(count) : ""}
      </span>
    </PressKey>
  );
}

/** A key word stands on the lines its team broke it into. */
export function KeyWord({ text }: { readonly text: string }) {
  return (
    <span class="key-word">
      {text.split(" ").map((line) => (
        <span key={line}>{line}</span>
      ))}
    </span>
  );
}

function saidOn(defect: string, last: LastAct | undefined): string {
  if (last?.entry.find.defect !== defect || last.fate !== "stored") return "";
  return last.entry.act === "undo" ? say("tally.taken_back") : say("tally.stored");
}
