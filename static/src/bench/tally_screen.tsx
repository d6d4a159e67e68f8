// SPDX-License-Identifier: Apache-2.0
// The tally: one screen, no scroll. Above, what is on the bench; in the middle, the keys; below, the answer to the
// last press; at the hand's side what is pressed less often, with the tray's end well apart from all the rest.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Tally } from "../folds/tally.js";
import { classIn } from "../folds/tally.js";
import { NOT_SURE, type DefectWord } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { ClassMark } from "../widgets/class_mark.js";
import { PressKey } from "../widgets/press_key.js";
import { soundOf } from "../widgets/tones.js";
import { say } from "../words/say.js";
import { AnswerStrip } from "./answer_strip.js";
import { DefectPad, KeyWord } from "./defect_pad.js";
import { hasKey, layKeys, pagesOf, type Row } from "./key_layout.js";
import { wordOf } from "./names.js";
import { NotStored } from "./not_stored.js";
import { padSize, type PadSize } from "./pad_size.js";
import { TallyHead } from "./tally_head.js";
import type { TallySession } from "./tally_session.js";
import "./tally.css";
import "./tally_bar.css";
import "./small_screen.css";
import { countTray, type TrayCounts } from "./tray_counts.js";
import { zoneDecides } from "./word_class.js";

export interface TallyScreenProps {
  readonly tablet: Tablet;
  readonly session: TallySession;
  readonly tally: Tally;
  readonly batchNumber: string;
  readonly pieces: number;
  readonly leads: readonly string[];
  readonly isDemo: boolean;
  readonly onEnd: () => void;
}

export function TallyScreen(props: TallyScreenProps) {
  const { session, tally } = props;
  const { definition, tray: trayId, look } = session.bench;
  const size = usePadSize();
  const [turned, setTurned] = useState(0);
  useTakenOnLeaving(session);
  const pages = pagesOf(layKeys(definition.defects.filter(hasKey), size.columns), size.rowsAtOnce);
  const page = Math.min(turned, pages.length - 1);
  const counts = countTray(tally, trayId);
  const tray = tally.trays.find((one) => one.id === trayId);
  const number = tray?.number ?? 0;
  const unstored = session.unstored.value;
  const turn = pages.length > 1 && (
    <button
      type="button"
      class="key turn"
      aria-label={`${say("tally.more_words")}, ${say("tally.page", { page: page + 1, pages: pages.length })}`}
      onClick={() => setTurned((page + 1) % pages.length)}
    >
      <span class="turn-words">{say("tally.more_words")}</span>{" "}
      <small>{say("tally.page", { page: page + 1, pages: pages.length })}</small>
    </button>
  );
  return (
    <main class="tally" data-shape={size.shape} data-asking={session.asking.value !== undefined}>
      <TallyHead
        batchNumber={props.batchNumber}
        look={look}
        tray={number}
        places={tray?.places ?? definition.tray_places}
        dueTrays={Math.ceil(props.pieces / definition.tray_places)}
        counts={counts}
      >
        {size.shape !== "small" && turn}
      </TallyHead>
      {unstored.length > 0 ? (
        <NotStored
          definition={definition}
          entries={unstored}
          tray={number}
          onTryAgain={() => session.tryAgain()}
          exportJournal={() => props.tablet.exportJournal()}
        />
      ) : (
        <Pad
          session={session}
          rows={pages[page] ?? []}
          columns={size.columns}
          counts={counts}
          leads={props.leads}
        />
      )}
      <Side session={session} blocked={unstored.length > 0} isDemo={props.isDemo} onEnd={props.onEnd}>
        {size.shape === "small" && turn}
      </Side>
    </main>
  );
}

interface PadProps {
  readonly session: TallySession;
  readonly rows: readonly Row[];
  readonly columns: number;
  readonly counts: TrayCounts;
  readonly leads: readonly string[];
}

function Pad({ session, rows, columns, counts, leads }: PadProps) {
  const { definition } = session.bench;
  const asking = session.asking.value;
  const pressed = (word: DefectWord, at: number): void => {
    session.press(word.defect, at);
    soundOf(zoneDecides(word, definition) ? "query" : classIn(word, ""));
  };
  const placed = (zone: string): void => {
    const word = definition.defects.find((one) => one.defect === asking?.find.defect);
    session.answer(zone);
    soundOf(classIn(word, zone));
  };
  return (
    <>
      <DefectPad
        definition={definition}
        rows={rows}
        columns={columns}
        marks={counts.marks}
        last={session.last.value}
        waiting={asking?.find.defect}
        onPress={pressed}
      />
      <AnswerStrip
        definition={definition}
        asking={asking}
        last={session.last.value}
        locked={counts.locked}
        leads={leads}
        canAddToPiece={session.lastPiece() !== undefined}
        samePiece={session.samePiece.value}
        onZone={placed}
        onNoZone={() => session.settle()}
        onSamePiece={() => {
          session.samePiece.value = !session.samePiece.value;
        }}
      />
    </>
  );
}

interface SideProps {
  readonly session: TallySession;
  readonly blocked: boolean;
  readonly isDemo: boolean;
  readonly onEnd: () => void;
  readonly children: ComponentChildren;
}

function Side({ session, blocked, isDemo, onEnd, children }: SideProps) {
  const asked = session.asking.value?.find.defect;
  const target = session.undoable()?.known;
  const next = asked ?? (target?.kind === "defect_tallied" ? target.body.defect : undefined);
  const end = async (): Promise<void> => {
    await session.settled();
    if (session.unstored.value.length === 0) onEnd();
  };
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
          {next === undefined
            ? say("tally.undo_nothing")
            : say("tally.undo_what", { what: wordOf(session.bench.definition, next) })}
        </span>
      </PressKey>
      {children}
      {isDemo && <span class="demo-tag">{say("app.demo_short")}</span>}
      <button type="button" class="key tray-end" disabled={blocked} onClick={() => void end()}>
        <span class="key-word">{say("tally.end")}</span>
      </button>
    </nav>
  );
}

function usePadSize(): PadSize {
  const measure = (): PadSize => padSize(window.innerWidth, window.innerHeight);
  const [size, setSize] = useState(measure);
  useEffect(() => {
    const resized = (): void => setSize(measure());
    window.addEventListener("resize", resized);
    return () => window.removeEventListener("resize", resized);
  }, []);
  return size;
}

/** A find that waits for its zone is taken when the screen is left or hidden: unsaid, it counts as the worst. */
function useTakenOnLeaving(session: TallySession): void {
  useEffect(() => {
    const hidden = (): void => {
      if (document.visibilityState === "hidden") session.settle();
    };
    document.addEventListener("visibilitychange", hidden);
    return () => {
      document.removeEventListener("visibilitychange", hidden);
      session.settle();
    };
  }, [session]);
}
