// SPDX-License-Identifier: Apache-2.0
// The machine: what is due now stands open, and everything that happens there is told in a tap or two.
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { keyOf, type Known } from "../folds/check_outcome.js";
import { LONGEST_WITHOUT_NUMBER_MS, type Check, type Checks } from "../folds/checks.js";
import type { Characteristic, Draft } from "../records/kinds.js";
import { usePedal } from "../widgets/pedal.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { clock, number } from "../words/measures.js";
import { inWords, say } from "../words/say.js";
import { Changed } from "./changed.js";
import { checkDesk, entryOf, exposureOf, lastValues, type Asked, type CheckDesk } from "./check_desk.js";
import { CheckEntry, type Seen, type Sent } from "./check_entry.js";
import { GaugeChoice, gaugeOf, gaugesUsed } from "./gauge_choice.js";
import type { GaugeDesk, GaugeStanding } from "./gauge_desk.js";
import { GaugeLine } from "./gauge_line.js";
import type { Change } from "./marks.js";
import { OutCard } from "./out_card.js";
import { useSent } from "./sent.js";
import {
  DueList,
  MissedCheck,
  madeAfter,
  nameOf,
  PiecesMade,
  StillMaking,
  type MadeTold,
  type Told,
} from "./tell.js";
import "./machine.css";

const MOMENT_MS = 15_000;
const SHOWN_VALUES = 25;

const BOUNCE_MS = 1000;

export interface CheckPageProps {
  readonly batchNumber: string;
  readonly operation: number;
  readonly operationName: string;
  /** False until what was recorded of the batch has reached this tablet. */
  readonly isHere: boolean;
  readonly plan: Known;
  readonly checks: Checks;
  readonly gauges: GaugeDesk;
  /** Server time [ms]. */
  readonly now: () => number;
  /** How a thing the operation runs with is marked, as far as somebody said so. */
  readonly markOf: (what: Change) => string;
  /** Store what was told; its id once it is stored. */
  readonly onTell: (told: Told) => Promise<string | undefined>;
  /** Store what was said of a gauge; its id once it is stored. */
  readonly onGaugeSaid: (draft: Draft) => Promise<string | undefined>;
  /** To the beginning of a stint, and to what is counted at its end. */
  readonly onBegin: () => void;
  readonly onCount: () => void;
  readonly onBack: () => void;
}

/** What stands open besides the checks; an earlier check is asked for again beside it. */
type Aside =
  | { readonly aside: "made" | "changed" | "missed" | "others" | "gauge" }
  | { readonly aside: "again"; readonly of: Check; readonly isTypingError: boolean };

export function CheckPage(props: CheckPageProps) {
  const { operation, plan, checks } = props;
  const moment = useMoment(props.now);
  const desk = checkDesk(checks, plan, operation, moment);
  const [chosen, setChosen] = useState<string>();
  const [aside, setAside] = useState<Aside>();
  const [isNotStored, setNotStored] = useState(false);
  const [lastMade, setLastMade] = useState<MadeTold>();
  const [turn, setTurn] = useState(0);
  const [notAskedUntil, setNotAskedUntil] = useState(-Infinity);
  const out = outOf(checks, operation);
  const asked = desk.now.find(({ due }) => nameOf(due) === chosen) ?? desk.now[0];
  const name = asked && nameOf(asked.due);
  // What stands open stays open until it is answered: nothing that comes due moves it from under the hand.
  useEffect(() => setChosen(name), [name]);
  const measured = measuredIn(aside, out, asked, plan);
  const entered = measured !== undefined && entryOf(measured) === "number" ? measured : undefined;
  const [named, setNamed] = useState<ReadonlyMap<string, string>>(new Map());
  const gauge = gaugeOf(named, checks, measured);
  const takeGauge = (number: string): void => {
    if (measured !== undefined) setNamed(new Map([...named, [keyOf(measured), number]]));
  };
  const heard = useSent(entered, `${name ?? ""} ${turn} ${aside?.aside ?? ""}`);
  const tell = async (...told: Told[]): Promise<void> => {
    for (const one of told) {
      const id = await props.onTell(one);
      setNotStored(id === undefined);
      if (id === undefined) return;
      setLastMade((before) => madeAfter(before, id, one));
    }
    // A number of pieces told while a value is being typed leaves the value in its field.
    if (told.some(({ kind }) => kind === "check_taken" || kind === "check_missed"))
      setTurn((before) => before + 1);
    setAside(undefined);
  };
  const usualAt = useRef(-Infinity);
  const tellUsual = (): void => {
    // A glove bounces: nobody makes another so many within a second.
    if (!desk.isRunning || desk.usual === 0 || performance.now() - usualAt.current < BOUNCE_MS) return;
    usualAt.current = performance.now();
    void tell({ kind: "pieces_made", body: { operation, pieces: desk.usual, counted: "key" } });
  };
  usePedal({ usual_made: tellUsual });
  const parts = {
    ...props,
    desk,
    moment,
    asked,
    out,
    turn,
    sent: heard.sent,
    measured,
    gauge,
    onGaugeSaid: async (draft: Draft) => {
      const id = await props.onGaugeSaid(draft);
      setNotStored(id === undefined);
      if (id !== undefined) setAside(undefined);
      return id;
    },
    onGauge: (number: string) => {
      takeGauge(number);
      setAside(undefined);
    },
    isAskedForNumber: desk.isRunning && desk.made === "unknown" && moment >= notAskedUntil,
    onNumberUnknown: () => setNotAskedUntil(moment + LONGEST_WITHOUT_NUMBER_MS),
    tell: (...told: Told[]) => void tell(...told),
    tellUsual,
    lastMade,
    setAside,
  };
  return (
    <main class="choice machine">
      <Head {...parts} />
      {isNotStored && <NotStoredLine />}
      {heard.note !== undefined && (
        <p class="problem" role="status">
          {heard.note}{" "}
          {heard.label !== undefined && measured !== undefined && (
            <button
              type="button"
              class="key"
              onClick={() => {
                takeGauge(heard.label ?? "");
                heard.forget();
              }}
            >
              {say("gauge.it_is", { gauge: heard.label })}
            </button>
          )}
        </p>
      )}
      {aside === undefined ? (
        <Open {...parts} />
      ) : (
        <>
          <Beside
            {...parts}
            aside={aside}
            onChosen={(name) => {
              setChosen(name);
              setAside(undefined);
            }}
          />
          <footer class="machine-foot">
            <button type="button" class="key" onClick={() => setAside(undefined)}>
              {say("check.back_to_due")}
            </button>
          </footer>
        </>
      )}
    </main>
  );
}

interface Parts extends CheckPageProps {
  readonly desk: CheckDesk;
  readonly moment: number;
  readonly asked: Asked | undefined;
  readonly out: Check | undefined;
  /** Counts what was told on this page: an entry behind it opens empty. */
  readonly turn: number;
  readonly sent: Sent | undefined;
  /** The check that stands open and is answered with a gauge. */
  readonly measured: Characteristic | undefined;
  /** The gauge its answer comes from; "" where nobody named one. */
  readonly gauge: string;
  readonly onGauge: (gauge: string) => void;
  /** Nobody has said for half an hour how many were made. */
  readonly isAskedForNumber: boolean;
  readonly onNumberUnknown: () => void;
  readonly tell: (...told: Told[]) => void;
  /** One key for as many pieces as lie between two checks. */
  readonly tellUsual: () => void;
  readonly lastMade: MadeTold | undefined;
  readonly setAside: (aside: Aside) => void;
}

/** The check that is answered with a gauge now: by the number it shows, or by what passes it. */
function measuredIn(
  aside: Aside | undefined,
  out: Check | undefined,
  asked: Asked | undefined,
  plan: Known,
): Characteristic | undefined {
  const open = aside?.aside === "again" ? plan.get(keyOf(aside.of)) : undefined;
  const isOpen = aside === undefined || aside.aside === "gauge";
  const shown = isOpen && out === undefined ? asked?.characteristic : open;
  return shown !== undefined && entryOf(shown) !== "yes_no" ? shown : undefined;
}

/** The first check out of its limits of which nobody has said what was done. */
function outOf(checks: Checks, operation: number): Check | undefined {
  const unanswered = checks.unanswered.map((id) => checks.checks.find((one) => one.id === id)?.root);
  return checks.checks.find(
    (one) =>
      one.operation === operation && one.outcome === "out" && !one.mistyped && unanswered.includes(one.root),
  );
}

/** The time, often enough for what is due by the clock. */
function useMoment(now: () => number): number {
  const [, setTick] = useState(0);
  useEffect(() => {
    const every = setInterval(() => setTick((tick) => tick + 1), MOMENT_MS);
    return () => clearInterval(every);
  }, []);
  return now();
}

function Head({ batchNumber, operationName, desk, tellUsual, setAside, onBegin }: Parts) {
  return (
    <header class="machine-head">
      <p class="on-bench">
        {batchNumber} <small>{operationName}</small>
      </p>
      <p class="made">
        {say("made.so_far")}{" "}
        <strong>{desk.made === "unknown" ? say("check.not_known") : number(desk.made)}</strong>
      </p>
      {desk.isRunning ? (
        <div class="head-keys">
          {desk.usual > 0 && (
            <button type="button" class="key done-key" onClick={tellUsual}>
              {say("made.usual", { count: desk.usual })}
            </button>
          )}
          <button type="button" class="key" onClick={() => setAside({ aside: "made" })}>
            {say("made.key")}
          </button>
          <button type="button" class="key" onClick={() => setAside({ aside: "changed" })}>
            {say("change.key")}
          </button>
        </div>
      ) : (
        <button type="button" class="key main" onClick={onBegin}>
          {say("check.start")}
        </button>
      )}
    </header>
  );
}

/** A check that is out before everything else, then the check that is due. */
function Open(props: Parts) {
  const { operation, isHere, plan, checks, moment, asked, out, desk, tell, setAside } = props;
  const characteristic = out && plan.get(keyOf(out));
  if (out !== undefined && characteristic !== undefined) {
    return (
      <OutCard
        key={out.id}
        check={out}
        characteristic={characteristic}
        exposure={exposureOf(checks, characteristic, moment)}
        gauge={gaugeTaken(props, out, characteristic)}
        onAgain={(isTypingError) => setAside({ aside: "again", of: out, isTypingError })}
        onDone={(done, pieces_back) =>
          tell({ kind: "reaction_taken", body: { operation, check: out.root, done, pieces_back } })
        }
      >
        <Ways {...props} />
      </OutCard>
    );
  }
  if (props.isAskedForNumber)
    return <StillMaking {...props} onTell={tell} onUnknown={props.onNumberUnknown} />;
  if (asked === undefined) {
    const next = desk.later[0];
    return (
      <>
        <p class="empty">{say(desk.isRunning ? "check.none_due" : "check.not_started")}</p>
        {!isHere && <p class="problem">{say("check.not_here")}</p>}
        {next !== undefined && <p>{sayNext(next)}</p>}
        <Ways {...props} />
      </>
    );
  }
  return (
    <CheckEntry
      key={`${nameOf(asked.due)} ${props.turn}`}
      sent={props.sent}
      characteristic={asked.characteristic}
      role={asked.due.role}
      left={asked.due.left}
      exposure={isHere ? exposureOf(checks, asked.characteristic, moment) : "unknown"}
      before={lastValues(checks, asked.characteristic, SHOWN_VALUES)}
      standingOf={(one) => props.gauges.standingOf(one, asked.characteristic)}
      gauge={inHand(props)}
      again={isHere ? undefined : say("check.perhaps_done")}
      onSeen={(seen) => tell(taken(props, asked.due, seen))}
    >
      <Ways {...props} />
    </CheckEntry>
  );
}

function taken(
  { operation, desk, gauge }: Parts,
  of: Asked["due"] | Check,
  seen: Seen,
  beside: object = {},
): Told {
  const { characteristic, role } = of;
  const made = desk.made === "unknown" ? {} : { made: desk.made };
  const from = gauge === "" ? {} : { gauge };
  return {
    kind: "check_taken",
    body: { operation, characteristic, role, ...seen, ...from, ...made, ...beside },
  };
}

/** How the gauge in hand stands; undefined where nobody named one. */
function inHand({ gauges, gauge, measured }: Parts): GaugeStanding | undefined {
  if (gauge === "" || measured === undefined) return undefined;
  return { number: gauge, standing: gauges.standing(gauge, measured) };
}

/** How the gauge of a value stands that is out: a value in doubt is measured again with another. */
function gaugeTaken({ gauges }: Parts, out: Check, characteristic: Characteristic): ComponentChildren {
  const standing = gauges.standingOf(out, characteristic);
  if (standing === "in_order") return null;
  return (
    <p>
      <GaugeLine number={out.gauge} standing={standing} />
    </p>
  );
}

/** The ways from what stands open: to the others that are due, past it, to the operations. */
function Ways({ desk, asked, measured, out, gauge, setAside, onCount, onBack }: Parts) {
  return (
    <div class="head-keys">
      {measured !== undefined && out === undefined && (
        <button type="button" class="key" onClick={() => setAside({ aside: "gauge" })}>
          {gauge === "" ? say("gauge.which") : say("gauge.is", { gauge })}
        </button>
      )}
      {desk.now.length > 1 && out === undefined && (
        <button type="button" class="key" onClick={() => setAside({ aside: "others" })}>
          {say("check.all_due", { count: desk.now.length })}
        </button>
      )}
      {asked !== undefined && out === undefined && (
        <button type="button" class="key" onClick={() => setAside({ aside: "missed" })}>
          {say("missed.key")}
        </button>
      )}
      {desk.isRunning && (
        <button type="button" class="key" onClick={onCount}>
          {say("counts.key")}
        </button>
      )}
      <button type="button" class="key" onClick={onBack}>
        {say("check.operations")}
      </button>
    </div>
  );
}

interface BesideProps extends Parts {
  readonly aside: Aside;
  readonly onChosen: (name: string) => void;
}

function Beside(props: BesideProps): ComponentChildren {
  const { operation, aside, asked, desk, tell, onChosen } = props;
  if (aside.aside === "again") return <Again {...props} {...aside} />;
  if (aside.aside === "made") {
    return (
      <PiecesMade
        last={props.lastMade}
        onTakeBack={(record) => tell({ kind: "record_withdrawn", body: { record, why: "wrong_key" } })}
        onPieces={(pieces) => tell({ kind: "pieces_made", body: { operation, pieces, counted: "key" } })}
      />
    );
  }
  if (aside.aside === "changed") {
    return (
      <Changed
        markOf={props.markOf}
        onChange={(change) => tell({ kind: "operation_changed", body: { operation, ...change } })}
      />
    );
  }
  if (aside.aside === "gauge") {
    return <WhichGauge {...props} />;
  }
  if (aside.aside === "others") return <DueList due={desk.now} onChosen={onChosen} />;
  if (asked === undefined) return null;
  const { characteristic, role } = asked.due;
  const made = desk.made === "unknown" ? {} : { made: desk.made };
  return (
    <MissedCheck
      name={inWords(asked.characteristic.words)}
      onReason={(why) =>
        tell({ kind: "check_missed", body: { operation, characteristic, role, why, ...made } })
      }
    />
  );
}

function WhichGauge({ operation, checks, gauges, gauge, measured, onGauge, onGaugeSaid }: Parts) {
  if (measured === undefined) return null;
  const doubt = gauges.ownDoubt(gauge);
  return (
    <GaugeChoice
      present={gauge}
      due={gauge === "" ? "" : gauges.due(gauge)}
      offered={gauges.offered(gaugesUsed(checks.checks, operation), measured)}
      onGauge={onGauge}
      onDoubt={() => void onGaugeSaid({ kind: "gauge_checked", v: 1, body: { gauge, result: "doubtful" } })}
      onNoDoubt={
        doubt === undefined
          ? undefined
          : () =>
              void onGaugeSaid({
                kind: "record_withdrawn",
                v: 1,
                body: { record: doubt, gauge, why: "wrong_key" },
              })
      }
    />
  );
}

interface AgainProps extends Parts {
  readonly of: Check;
  readonly isTypingError: boolean;
}

function Again(props: AgainProps) {
  const { of, isTypingError, plan, checks, moment, tell } = props;
  const characteristic = plan.get(keyOf(of));
  if (characteristic === undefined) return null;
  const beside = { repeats: of.id, ...(isTypingError ? { typing_error: true } : {}) };
  return (
    <CheckEntry
      characteristic={characteristic}
      role={of.role}
      left={1}
      exposure={exposureOf(checks, characteristic, moment)}
      before={lastValues(checks, characteristic, SHOWN_VALUES)}
      standingOf={(one) => props.gauges.standingOf(one, characteristic)}
      gauge={inHand(props)}
      sent={props.sent}
      again={say(isTypingError ? "check.again_typed" : "check.again_measured")}
      onSeen={(seen) => tell(taken(props, of, seen, beside))}
    />
  );
}

function sayNext({ due, characteristic }: Asked): string {
  const name = inWords(characteristic.words);
  return due.at_made > 0
    ? say("check.next_at", { name, made: number(due.at_made) })
    : say("check.next_from", { name, time: clock(due.at_time) });
}
