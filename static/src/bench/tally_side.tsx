// SPDX-License-Identifier: Apache-2.0
// At the hand's side: what is pressed less often than a defect key, with the tray's end well apart from all the rest.
import type { ComponentChildren } from "preact";
import type { ReadRecord } from "../records/kinds.js";
import { NOT_SURE } from "../records/kinds.js";
import { ClassMark } from "../widgets/class_mark.js";
import { usePedal } from "../widgets/pedal.js";
import { PressKey } from "../widgets/press_key.js";
import { soundOf } from "../widgets/tones.js";
import { say } from "../words/say.js";
import { KeyWord } from "./defect_pad.js";
import { judgedWord, wordOf } from "./names.js";
import type { TallySession } from "./tally_session.js";

export interface TallySideProps {
  readonly session: TallySession;
  readonly blocked: boolean;
  readonly onEnd: () => void;
  /** Between undo and the tray's end. */
  readonly children: ComponentChildren;
}

export function TallySide({ session, blocked, onEnd, children }: TallySideProps) {
  const next = undone(session);
  const end = async (): Promise<void> => {
    await session.settled();
    if (session.unstored.value.length === 0) onEnd();
  };
  usePedal({
    undo: (at) => {
      if (!blocked && next !== undefined) session.undo(at);
    },
    tray_end: () => {
      if (!blocked) void end();
    },
  });
  return (
    <nav class="side" aria-label={say("tally.end")}>
      <PressKey
        class="not-sure"
        blocked={blocked}
        onPress={(at) => {
          session.press(NOT_SURE, at);
          soundOf("query");
        }}
      >
        <KeyWord text={say("tally.not_sure")} />
        <ClassMark shape="query" />
        <span class="key-note">{say("tally.not_sure_do")}</span>
      </PressKey>
      <PressKey class="undo" blocked={blocked || next === undefined} onPress={(at) => session.undo(at)}>
        <span class="key-word">{say("tally.undo")}</span>
        <span class="key-note">
          {next === undefined ? say("tally.undo_nothing") : say("tally.undo_what", { what: next })}
        </span>
      </PressKey>
      {children}
      <button type="button" class="key tray-end" disabled={blocked} onClick={() => void end()}>
        <span class="key-word">{say("tally.end")}</span>
      </button>
    </nav>
  );
}

/** What the undo key takes back next, in words. */
function undone(session: TallySession): string | undefined {
  const { definition } = session.bench;
  const asked = session.asking.value;
  if (asked !== undefined) return wordOf(definition, asked.find.defect);
  const known: ReadRecord["known"] = session.undoable()?.known;
  if (known?.kind === "piece_judged") return judgedWord(known.body.verdict);
  return known?.kind === "defect_tallied" ? wordOf(definition, known.body.defect) : undefined;
}
