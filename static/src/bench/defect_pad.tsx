// SPDX-License-Identifier: Apache-2.0
// The keys of the defect list: a road's first step, from a finger to a record.
import type { DefectWord, PartDefinition } from "../records/kinds.js";
import { classIn } from "../folds/tally.js";
import { ClassMark, type MarkShape } from "../widgets/class_mark.js";
import { PressKey } from "../widgets/press_key.js";
import { number } from "../words/measures.js";
import { inWords, say, type Key } from "../words/say.js";
import type { Row } from "./key_layout.js";
import type { LastAct } from "./keeping.js";
import { wordOf } from "./names.js";
import { zoneDecides } from "./word_class.js";

const CLASS_WORDS: Readonly<Record<MarkShape, Key>> = {
  critical: "tally.class.critical",
  major: "tally.class.major",
  minor: "tally.class.minor",
  query: "tally.class.query",
  by_zone: "tally.class.by_zone",
};

export interface DefectPadProps {
  readonly definition: PartDefinition;
  readonly rows: readonly Row[];
  readonly columns: number;
  readonly marks: ReadonlyMap<string, number>;
  readonly last: LastAct | undefined;
  readonly waiting: string | undefined;
  readonly onPress: (word: DefectWord, at: number) => void;
}

export function DefectPad(props: DefectPadProps) {
  return (
    <section class="pad" aria-label={say("tally.pad")}>
      {props.rows.map((row, place) => (
        <div key={place} class={`pad-row${row.critical ? " is-critical" : ""}`}>
          {Array.from({ length: props.columns }, (_, column) => {
            const word = row.places[column];
            if (word === undefined) return <span key={column} class="pad-gap" />;
            return (
              <DefectKey
                key={word.defect}
                word={word}
                definition={props.definition}
                count={props.marks.get(word.defect) ?? 0}
                isStored={isStoredOn(word.defect, props.last)}
                isWaiting={props.waiting === word.defect}
                onPress={props.onPress}
              />
            );
          })}
        </div>
      ))}
    </section>
  );
}

interface DefectKeyProps {
  readonly word: DefectWord;
  readonly definition: PartDefinition;
  readonly count: number;
  readonly isStored: boolean;
  readonly isWaiting: boolean;
  readonly onPress: DefectPadProps["onPress"];
}

/** A tap changes one key: one that reads a signal, as every word does, is drawn again only for other properties. */
function DefectKey({ word, definition, count, isStored, isWaiting, onPress }: DefectKeyProps) {
  const name = wordOf(definition, word.defect);
  const shape = zoneDecides(word, definition) ? "by_zone" : classIn(word, "");
  return (
    <PressKey
      class={`defect-key${isWaiting ? " is-waiting" : ""}`}
      name={`${name}, ${say(CLASS_WORDS[shape])}, ${say("tally.key_count", { count })}`}
      onPress={(at) => onPress(word, at)}
    >
      <KeyWord text={inWords(word.key)} />
      {isStored ? (
        <span class="key-said" aria-hidden="true">
          {say("tally.stored")}
        </span>
      ) : (
        <ClassMark shape={shape} />
      )}
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

/** The last press of this key is in the store. */
function isStoredOn(defect: string, last: LastAct | undefined): boolean {
  if (last === undefined || last.fate !== "stored" || "verdict" in last.entry) return false;
  return last.entry.find.defect === defect && last.entry.act !== "undo";
}
