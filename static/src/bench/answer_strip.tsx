// SPDX-License-Identifier: Apache-2.0
// The answer to the last press, always at the same place: what was taken and whether it is stored, whom to tell of
// a critical find, the key for a further defect on the same piece. While a find waits for its place on the piece,
// the zones stand here; the defect keys stay where they are and take the next find at any time.
import { classIn } from "../folds/tally.js";
import { NOT_SURE, type PartDefinition } from "../records/kinds.js";
import { ClassMark } from "../widgets/class_mark.js";
import { PressKey } from "../widgets/press_key.js";
import { inWords, say } from "../words/say.js";
import { oneOf, wordOf, zoneName } from "./names.js";
import type { Asking, Find, LastAct } from "./tally_session.js";

export interface AnswerStripProps {
  readonly definition: PartDefinition;
  readonly asking: Asking | undefined;
  readonly last: LastAct | undefined;
  /** Locked pieces of this tray: while there is one, the strip says whom to tell. */
  readonly locked: number;
  readonly leads: readonly string[];
  readonly canAddToPiece: boolean;
  readonly samePiece: boolean;
  readonly onZone: (zone: string) => void;
  readonly onNoZone: () => void;
  readonly onSamePiece: () => void;
}

export function AnswerStrip(props: AnswerStripProps) {
  return (
    <section class="strip" aria-live="polite">
      {props.asking === undefined ? <Rest {...props} /> : <Zones {...props} asking={props.asking} />}
    </section>
  );
}

function Zones(props: AnswerStripProps & { readonly asking: Asking }) {
  const word = wordOf(props.definition, props.asking.find.defect);
  return (
    <div class="zones">
      <h2>{say("tally.where", { what: word })}</h2>
      {(props.definition.zones ?? []).map((zone) => (
        <PressKey key={zone.zone} class="zone-key" onPress={() => props.onZone(zone.zone)}>
          {inWords(zone.words)}
        </PressKey>
      ))}
      <PressKey class="zone-key is-skip" onPress={() => props.onNoZone()}>
        {say("tally.where_not_said")}
      </PressKey>
    </div>
  );
}

function Rest(props: AnswerStripProps) {
  return (
    <>
      <LastFind definition={props.definition} last={props.last} />
      {props.locked > 0 ? <Critical leads={props.leads} /> : <span class="strip-empty" />}
      <PressKey
        class="same-piece"
        blocked={!props.canAddToPiece}
        held={props.samePiece}
        onPress={() => props.onSamePiece()}
      >
        <span class="key-word">{say("tally.same_piece")}</span>
        <span class="key-note">
          {props.samePiece ? say("tally.same_piece_on") : say("tally.same_piece_what")}
        </span>
      </PressKey>
    </>
  );
}

function LastFind(props: { readonly definition: PartDefinition; readonly last: LastAct | undefined }) {
  const { definition, last } = props;
  if (last === undefined) {
    return <p class="last-find is-none">{say("tally.no_find")}</p>;
  }
  const { find } = last.entry;
  return (
    <p class="last-find">
      <small>{find.zone === undefined ? say("tally.last") : zoneName(definition, find.zone)}</small>
      <strong>{wordOf(definition, find.defect)}</strong>
      <span class={`is-${last.fate}`}>{saidOf(last)}</span>
      {last.entry.act === "undo" && isCritical(definition, find) && <span>{say("tally.lock_stays")}</span>}
    </p>
  );
}

function isCritical(definition: PartDefinition, { defect, zone = "" }: Find): boolean {
  const word = definition.defects.find((entry) => entry.defect === defect);
  return defect !== NOT_SURE && classIn(word, zone) === "critical";
}

function saidOf({ entry, fate }: LastAct): string {
  if (fate === "storing") return say("tally.storing");
  if (fate === "kept") return say("tally.kept");
  if (entry.act === "undo") return say("tally.taken_back");
  return entry.act === "repeat" ? say("tally.repeat_kept") : say("tally.stored");
}

function Critical({ leads }: { readonly leads: readonly string[] }) {
  return (
    <div class="critical" role="status">
      <ClassMark shape="critical" />
      <strong>{say("tally.critical")}</strong>
      <p>
        {leads.length === 0
          ? say("tally.critical_tell_nobody")
          : say("tally.critical_tell", { who: oneOf(leads) })}
      </p>
    </div>
  );
}
