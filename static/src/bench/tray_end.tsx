// SPDX-License-Identifier: Apache-2.0
// The end of a tray, in an order that keeps the count honest: second taps are settled, the empty places are
// counted on the tray, and only then does the tablet show what it holds.
import { useState } from "preact/hooks";
import type { BenchState } from "../folds/bench.js";
import type { Mark } from "../folds/tally.js";
import type { ReadRecord } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { ClassMark, type MarkShape } from "../widgets/class_mark.js";
import { Keypad } from "../widgets/keypad.js";
import { ReworkMark } from "../widgets/rework_mark.js";
import { clock, number } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import { LeaveTray } from "./leave_tray.js";
import { wordOf } from "./names.js";
import { NotStored } from "./not_stored.js";
import type { TallySession } from "./tally_session.js";
import { closingOf, countTray, isKeptTogether, openRepeats, type TrayCounts } from "./tray_counts.js";

export interface TrayEndProps {
  readonly tablet: Tablet;
  readonly session: TallySession;
  readonly bench: BenchState;
  /** Everything the tablet holds, by id. */
  readonly records: ReadonlyMap<string, ReadRecord>;
  readonly batchNumber: string;
  readonly onBack: () => void;
  readonly onClosed: (number: number) => void;
  /** The tray was left to somebody else. */
  readonly onLeft: () => void;
}

export function TrayEnd(props: TrayEndProps) {
  const { session, bench, tablet } = props;
  const { tally } = bench;
  const { tray: trayId, definition } = session.bench;
  const tray = tally.trays.find((one) => one.id === trayId);
  const [empty, setEmpty] = useState<number>();
  const [closing, setClosing] = useState(false);
  const [isLeaving, setLeaving] = useState(false);
  if (tray === undefined) return null;
  const repeat = openRepeats(tally, trayId, session.answered.value)[0];
  const close = async (accepted: number, counts: TrayCounts): Promise<void> => {
    setClosing(true);
    const { rejected, rework, query } = counts;
    const numbers = { places: tray.places, empty_counted: empty ?? 0, accepted, rejected, rework, query };
    if (await session.close(numbers)) props.onClosed(tray.number);
    setClosing(false);
  };
  const leave = async (place: number): Promise<void> => {
    if (await session.leave(place)) props.onLeft();
  };
  return (
    <main class="choice tray-end-page">
      <p class="on-bench">
        {props.batchNumber} <small>{say("end.title", { number: tray.number })}</small>
      </p>
      {session.unstored.value.length > 0 ? (
        <NotStored
          definition={definition}
          entries={session.unstored.value}
          tray={tray.number}
          onTryAgain={() => session.tryAgain()}
          exportJournal={() => tablet.exportJournal()}
        />
      ) : repeat !== undefined ? (
        <OneOrTwo session={session} repeat={repeat} />
      ) : isLeaving ? (
        <LeaveTray tray={tray.number} places={tray.places} onLeave={(place) => void leave(place)} />
      ) : empty === undefined ? (
        <EmptyPlaces places={tray.places} onCounted={setEmpty} />
      ) : (
        <Check
          counts={countTray(bench, trayId)}
          isKeptTogether={isKeptTogether(bench, props.records, trayId)}
          places={tray.places}
          empty={empty}
          closing={closing}
          onClose={close}
          onCountAgain={() => setEmpty(undefined)}
        />
      )}
      <div class="not-yet">
        <button type="button" class="key" onClick={() => props.onBack()}>
          {say("end.not_yet")}
        </button>
        {!isLeaving && repeat === undefined && empty === undefined && (
          <button type="button" class="key" onClick={() => setLeaving(true)}>
            {say("leave.open")}
          </button>
        )}
      </div>
    </main>
  );
}

function OneOrTwo({ session, repeat }: { readonly session: TallySession; readonly repeat: Mark }) {
  const what = wordOf(session.bench.definition, repeat.defect);
  return (
    <section>
      <h1>{say("end.repeat_title", { what })}</h1>
      <p>{say("end.repeat_what", { when: clock(repeat.found_at) })}</p>
      <div class="pair">
        <button type="button" class="key main" onClick={() => session.sayHowMany(repeat, 1)}>
          {say("end.one")}
        </button>
        <button type="button" class="key main" onClick={() => session.sayHowMany(repeat, 2)}>
          {say("end.two")}
        </button>
      </div>
    </section>
  );
}

interface EmptyPlacesProps {
  readonly places: number;
  readonly onCounted: (empty: number) => void;
}

function EmptyPlaces({ places, onCounted }: EmptyPlacesProps) {
  const [typed, setTyped] = useState("");
  const [problem, setProblem] = useState<string>();
  const counted = (): void => {
    if (typed === "") setProblem(say("end.empty_missing"));
    else if (Number(typed) > places) {
      setProblem(say("end.empty_too_many", { places, empty: Number(typed) }));
    } else onCounted(Number(typed));
  };
  return (
    <section class="empty-places">
      <div>
        <h1>{say("end.empty_title")}</h1>
        <p>{say("end.empty_what", { places })}</p>
        <div class="pair">
          <button type="button" class="key" disabled={typed !== ""} onClick={() => onCounted(0)}>
            {say("end.none_empty")}
          </button>
          <button type="button" class="key main" onClick={counted}>
            {say("end.show")}
          </button>
        </div>
      </div>
      <Keypad
        value={typed}
        onChange={setTyped}
        digits={String(places).length}
        label={say("end.empty_title")}
        problem={problem}
        onEnter={counted}
      />
    </section>
  );
}

interface CheckProps {
  readonly counts: TrayCounts;
  readonly isKeptTogether: boolean;
  readonly places: number;
  readonly empty: number;
  readonly closing: boolean;
  readonly onClose: (accepted: number, counts: TrayCounts) => Promise<void>;
  readonly onCountAgain: () => void;
}

function Check({ counts, places, empty, closing, onClose, onCountAgain, ...props }: CheckProps) {
  const result = closingOf(counts, places, empty);
  if (!result.fits) {
    return (
      <section>
        <p class="problem" role="alert">
          {say("end.does_not_fit", { empty, marked: counts.marked, places })}
        </p>
        <button type="button" class="key main" onClick={onCountAgain}>
          {say("end.count_again")}
        </button>
      </section>
    );
  }
  return (
    <section class="check">
      <h1>{say("end.check_title")}</h1>
      <Numbers counts={counts} places={places} empty={empty} accepted={result.accepted} />
      {props.isKeptTogether && (
        <p class="problem keep-together">
          <ClassMark shape="critical" /> {say("end.keep_together")}
        </p>
      )}
      <div class="close-row">
        <button
          type="button"
          class="key main all-looked-at"
          disabled={closing}
          onClick={() => void onClose(result.accepted, counts)}
        >
          {say("end.all_looked_at")}
          <small>{closing ? say("end.closing") : say("end.all_looked_at_what")}</small>
        </button>
        <button type="button" class="key" onClick={onCountAgain}>
          {say("end.count_again")}
        </button>
      </div>
    </section>
  );
}

interface NumbersProps {
  readonly counts: TrayCounts;
  readonly places: number;
  readonly empty: number;
  readonly accepted: number;
}

/** The tray as a sum that closes: the pieces and the empty places make up its places. */
function Numbers({ counts, places, empty, accepted }: NumbersProps) {
  return (
    <dl class="tray-numbers">
      <Term value={accepted} name="end.accepted" />
      <Term sign="+" value={counts.rejected} name="tally.rejects" mark="major" />
      {counts.locked > 0 && (
        <Term value={counts.locked} name="end.locked_of_these" mark="critical" alarming />
      )}
      <Term sign="+" value={counts.rework} name="tally.reworks" mark="rework" />
      <Term sign="+" value={counts.query} name="tally.queries" mark="query" />
      <Term sign="+" value={empty} name="end.empty" />
      <Term sign="=" value={places} name="end.places" />
    </dl>
  );
}

interface TermProps {
  readonly sign?: "+" | "=";
  readonly value: number;
  readonly name: Key;
  readonly mark?: MarkShape | "rework";
  readonly alarming?: boolean;
}

function Term({ sign, value, name, mark, alarming = false }: TermProps) {
  return (
    <div class={alarming ? "is-alarming" : ""}>
      <dd>
        {sign !== undefined && <span class="sign">{sign}</span>}
        {mark === "rework" ? <ReworkMark /> : mark !== undefined && <ClassMark shape={mark} />}{" "}
        {number(value)}
      </dd>
      <dt>{say(name)}</dt>
    </div>
  );
}
