// SPDX-License-Identifier: Apache-2.0
// The answer to the last press, always at the same place: what was taken and whether it is stored, the tag for the
// piece's slip, what the finder may say of it, whom to tell of a critical find, the key for a further defect on the
// same piece. While a find waits for its place on the piece, the zones stand here; the defect keys stay where they
// are and take the next find at any time.
import type { ComponentChildren } from "preact";
import { classIn } from "../folds/tally.js";
import { NOT_SURE, type PartDefinition } from "../records/kinds.js";
import { ClassMark } from "../widgets/class_mark.js";
import { PressKey } from "../widgets/press_key.js";
import { inWords, say } from "../words/say.js";
import { CavityChoice } from "./cavity_choice.js";
import type { Find, Judged, LastAct } from "./keeping.js";
import { judgedWord, oneOf, wordOf, zoneName } from "./names.js";
import type { Asking, TallySession } from "./tally_session.js";
import type { Offer } from "./verdict_offer.js";

export interface AnswerStripProps {
  readonly session: TallySession;
  /** The tag of the piece in hand; '' where there is none. */
  readonly tag: string;
  readonly offer: Offer | undefined;
  /** True while a hold of this tray stands: then the strip says whom to tell. */
  readonly isKeptTogether: boolean;
  readonly leads: readonly string[];
  readonly onZone: (zone: string) => void;
  readonly onJudged: (offer: Offer, verdict: Judged, at: number) => void;
  /** What stands beside the last act where the screen has no other room for it. */
  readonly children: ComponentChildren;
}

export function AnswerStrip(props: AnswerStripProps) {
  const { session } = props;
  const asking = session.asking.value;
  return (
    <section class="strip" aria-live="polite">
      {asking !== undefined ? (
        <Zones session={session} asking={asking} onZone={props.onZone} />
      ) : session.choosingCavity.value ? (
        <CavityChoice session={session} />
      ) : (
        <Rest {...props} />
      )}
    </section>
  );
}

interface ZonesProps {
  readonly session: TallySession;
  readonly asking: Asking;
  readonly onZone: (zone: string) => void;
}

function Zones({ session, asking, onZone }: ZonesProps) {
  const { definition } = session.bench;
  return (
    <div class="zones">
      <h2>{say("tally.where", { what: wordOf(definition, asking.find.defect) })}</h2>
      {(definition.zones ?? []).map((zone) => (
        <PressKey key={zone.zone} class="zone-key" onPress={() => onZone(zone.zone)}>
          {inWords(zone.words)}
        </PressKey>
      ))}
      <PressKey class="zone-key is-skip" onPress={() => session.settle()}>
        {say("tally.where_not_said")}
      </PressKey>
    </div>
  );
}

function Rest(props: AnswerStripProps) {
  const { session, offer } = props;
  const { samePiece } = session;
  return (
    <>
      <div class="strip-line">
        <LastDone definition={session.bench.definition} last={session.lastAct()} tag={props.tag} />
        {props.children}
      </div>
      {offer !== undefined ? (
        <Verdicts offer={offer} onJudged={props.onJudged} />
      ) : (
        props.isKeptTogether && <Critical leads={props.leads} />
      )}
      <PressKey
        class="same-piece"
        blocked={session.lastPiece() === undefined}
        held={samePiece.value}
        onPress={() => {
          samePiece.value = !samePiece.value;
        }}
      >
        <span class="key-word">{say("tally.same_piece")}</span>
        <span class="key-note">
          {samePiece.value ? say("tally.same_piece_on") : say("tally.same_piece_what")}
        </span>
      </PressKey>
    </>
  );
}

interface VerdictsProps {
  readonly offer: Offer;
  readonly onJudged: (offer: Offer, verdict: Judged, at: number) => void;
}

/** Two keys at a place of their own. Without either of them the piece stays a reject. */
function Verdicts({ offer, onJudged }: VerdictsProps) {
  const { instruction } = offer;
  return (
    <>
      <PressKey class="verdict accept" onPress={(at) => onJudged(offer, "accept", at)}>
        <span class="key-word">{say("verdict.accept")}</span>
        <span class="key-note">{say("verdict.accept_what")}</span>
      </PressKey>
      {instruction !== undefined && (
        <PressKey class="verdict rework" onPress={(at) => onJudged(offer, "rework", at)}>
          <span class="key-word">{say("verdict.rework")}</span>
          <span class="key-note">{instruction}</span>
        </PressKey>
      )}
    </>
  );
}

interface LastDoneProps {
  readonly definition: PartDefinition;
  readonly last: LastAct | undefined;
  readonly tag: string;
}

function LastDone({ definition, last, tag }: LastDoneProps) {
  if (last === undefined) {
    return <p class="last-find is-none">{say("tally.no_find")}</p>;
  }
  const { entry } = last;
  const isJudgement = "verdict" in entry;
  return (
    <p class="last-find">
      {tag !== "" && <strong class="tag">{tag}</strong>}
      <strong>{isJudgement ? judgedWord(entry.verdict) : wordOf(definition, entry.find.defect)}</strong>
      <span class={`fate is-${last.fate}`}>{saidOf(last)}</span>
      {!isJudgement && entry.find.zone !== undefined && (
        <small>{zoneName(definition, entry.find.zone)}</small>
      )}
      {entry.act === "undo" && isCritical(definition, entry.find) && (
        <span class="lock-stays">{say("tally.lock_stays")}</span>
      )}
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
  if (entry.act === "undo" || entry.act === "unjudge") return say("tally.taken_back");
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
