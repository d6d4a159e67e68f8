// SPDX-License-Identifier: Apache-2.0
// The tally: one screen, no scroll. Above, what is on the bench; in the middle, the keys; below, the answer to the
// last press; at the hand's side what is pressed less often, with the tray's end well apart from all the rest.
import type { ComponentChildren } from "preact";
import { useCallback, useEffect, useLayoutEffect, useMemo, useState } from "preact/hooks";
import type { BenchState } from "../folds/bench.js";
import { tagOf } from "../folds/tags.js";
import { classIn } from "../folds/tally.js";
import type { DefectWord, ReadRecord } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { usePedal } from "../widgets/pedal.js";
import { soundOf } from "../widgets/tones.js";
import { say } from "../words/say.js";
import { AnswerStrip } from "./answer_strip.js";
import { CavityKey } from "./cavity_choice.js";
import { DefectPad } from "./defect_pad.js";
import { goesOnFrom } from "./handed_over.js";
import { hasKey, layKeys, pagesOf, type Row } from "./key_layout.js";
import { limitOf, LimitWord } from "./limit_word.js";
import { NotStored } from "./not_stored.js";
import { padSize, type PadSize } from "./pad_size.js";
import { PictureKey } from "./picture_key.js";
import { RestKey } from "./rest_key.js";
import { lookingSince } from "./rests.js";
import { TallyHead } from "./tally_head.js";
import type { TallySession } from "./tally_session.js";
import { TallySide } from "./tally_side.js";
import { countTray, dueIn, isKeptTogether } from "./tray_counts.js";
import { offerFor } from "./verdict_offer.js";
import { zoneDecides } from "./word_class.js";
import "./tally.css";
import "./tally_strip.css";
import "./tally_bar.css";
import "./small_screen.css";

export interface TallyScreenProps {
  readonly tablet: Tablet;
  readonly session: TallySession;
  readonly bench: BenchState;
  /** Everything the tablet holds, by id. */
  readonly records: ReadonlyMap<string, ReadRecord>;
  readonly batchNumber: string;
  readonly leads: readonly string[];
  readonly isDemo: boolean;
  readonly onEnd: () => void;
}

export function TallyScreen(props: TallyScreenProps) {
  const { tablet, session, bench, records } = props;
  const { definition, look, tray: trayId } = session.bench;
  const size = usePadSize();
  const [turned, setTurned] = useState(0);
  useTakenOnLeaving(session);
  const tray = bench.tally.trays.find((one) => one.id === trayId);
  const counts = countTray(bench, trayId);
  const pages = pagesOf(layKeys(definition.defects.filter(hasKey), size.columns), size.rowsAtOnce);
  const page = Math.min(turned, pages.length - 1);
  const unstored = session.unstored.value;
  const isBlocked = unstored.length > 0;
  const turn = <TurnKey page={page} pages={pages.length} onTurn={setTurned} />;
  const isTall = size.shape === "tall";
  const isWide = size.shape === "wide";
  const limit = <LimitWord state={limitOf(bench.limits, look)} />;
  const cavity = <CavityKey session={session} blocked={isBlocked} />;
  const rest = (
    <RestKey
      since={lookingSince(tablet.records.value, tablet.signOn.value?.id ?? "")}
      onRested={() => session.rested()}
    />
  );
  const places = tray?.places ?? definition.tray_places;
  return (
    <main
      class="tally"
      data-shape={size.shape}
      data-asking={session.asking.value !== undefined || session.choosingCavity.value}
    >
      <TallyHead
        batchNumber={props.batchNumber}
        look={look}
        tray={tray?.number ?? 0}
        due={dueIn(bench, look, tray?.number ?? 0, places)}
        from={useMemo(() => goesOnFrom(records, trayId), [records, trayId])}
        counts={counts}
        turn={isWide && turn}
        limit={!isTall && limit}
      />
      {isBlocked ? (
        <NotStored
          definition={definition}
          entries={unstored}
          tray={tray?.number ?? 0}
          onTryAgain={() => session.tryAgain()}
          exportJournal={() => tablet.exportJournal()}
        />
      ) : (
        <>
          <Pad session={session} rows={pages[page] ?? []} columns={size.columns} marks={counts.marks} />
          <Answer {...props}>
            {isTall && limit}
            {isTall && rest}
            {!isWide && cavity}
          </Answer>
        </>
      )}
      <TallySide session={session} blocked={isBlocked} onEnd={props.onEnd}>
        {isWide && cavity}
        <div class="between">
          {props.isDemo && <span class="demo-tag">{say("app.demo_short")}</span>}
          {!isWide && turn}
          {isWide && rest}
        </div>
      </TallySide>
    </main>
  );
}

interface TurnKeyProps {
  readonly page: number;
  readonly pages: number;
  readonly onTurn: (page: number) => void;
}

/** The key that turns the pages of a pad that does not fit at once. */
function TurnKey({ page, pages, onTurn }: TurnKeyProps) {
  if (pages < 2) return null;
  const here = say("tally.page", { page: page + 1, pages });
  return (
    <button
      type="button"
      class="key turn"
      aria-label={`${say("tally.more_words")}, ${here}`}
      onClick={() => onTurn((page + 1) % pages)}
    >
      <span class="turn-words">{say("tally.more_words")}</span> <small>{here}</small>
    </button>
  );
}

interface PadProps {
  readonly session: TallySession;
  readonly rows: readonly Row[];
  readonly columns: number;
  readonly marks: ReadonlyMap<string, number>;
}

function Pad({ session, rows, columns, marks }: PadProps) {
  const { definition } = session.bench;
  const pressed = useCallback(
    (word: DefectWord, at: number): void => {
      session.press(word.defect, at);
      soundOf(zoneDecides(word, definition) ? "query" : classIn(word, ""));
    },
    [session, definition],
  );
  // Whatever page of the keys is open, the pedal means one word: none that asks for a zone or would hold the batch.
  const first = definition.defects.find(
    (word) => hasKey(word) && classIn(word, "") !== "critical" && !zoneDecides(word, definition),
  );
  usePedal({
    main_reject: (at) => {
      if (first !== undefined) pressed(first, at);
    },
  });
  return (
    <DefectPad
      definition={definition}
      rows={rows}
      columns={columns}
      marks={marks}
      last={session.last.value}
      waiting={session.asking.value?.find.defect}
      onPress={pressed}
    />
  );
}

function Answer({ children, ...props }: TallyScreenProps & { readonly children: ComponentChildren }) {
  const { tablet, session, bench, records } = props;
  const { definition, look, tray } = session.bench;
  const signOn = tablet.signOn.value?.id ?? "";
  const piece = session.pieceInHand();
  const own = { chain: signOn.split(":")[0] ?? "", letters: tablet.letters.value };
  const placed = (zone: string): void => {
    const asking = session.asking.value;
    const word = definition.defects.find((one) => one.defect === asking?.find.defect);
    session.answer(zone);
    soundOf(classIn(word, zone));
  };
  return (
    <AnswerStrip
      session={session}
      tag={piece === undefined ? "" : tagOf(piece, records, own)}
      offer={piece === undefined ? undefined : offerFor(bench, definition, look, piece, signOn)}
      isKeptTogether={isKeptTogether(bench, records, tray)}
      leads={props.leads}
      onZone={placed}
      onJudged={(offer, verdict, at) => session.judge(offer, verdict, at)}
    >
      <PictureKey
        tablet={tablet}
        about={{ batch: session.bench.batch, definition: session.bench.definitionId, look, tray, piece }}
        tag={piece === undefined ? "" : tagOf(piece, records, own)}
      />
      {children}
    </AnswerStrip>
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
  // What stands around the tally takes its shape from the root. Asked of the tally within by a selector, each tap
  // would have the browser look at every element again.
  useLayoutEffect(() => {
    const { dataset } = document.documentElement;
    dataset["tally"] = size.shape;
    return () => delete dataset["tally"];
  }, [size.shape]);
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
