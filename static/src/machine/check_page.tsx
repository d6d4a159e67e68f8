// SPDX-License-Identifier: Apache-2.0
// The machine: what is due now stands open, and everything that happens there is told in a tap or two.
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import { keyOf, type Known } from "../folds/check_outcome.js";
import type { Check, Checks } from "../folds/checks.js";
import type { Draft } from "../records/kinds.js";
import { clock, number } from "../words/measures.js";
import { inWords, say } from "../words/say.js";
import { checkDesk, exposureOf, lastValues, type Asked, type CheckDesk } from "./check_desk.js";
import { CheckEntry, type Seen } from "./check_entry.js";
import { OutCard } from "./out_card.js";
import { Changed, DueList, MissedCheck, nameOf, PiecesMade } from "./tell.js";
import "./machine.css";

const MOMENT_MS = 15_000;
const SHOWN_VALUES = 25;

/** A record about the operation, without batch and definition, which whoever stores it knows. */
export type Told = Pick<Draft, "kind" | "body">;

export interface CheckPageProps {
  readonly batchNumber: string;
  readonly operation: number;
  readonly operationName: string;
  readonly plan: Known;
  readonly checks: Checks;
  /** Store what was told; its id once it is stored. */
  readonly onTell: (told: Told) => Promise<string | undefined>;
  /** To the beginning of a stint, and to what is counted at its end. */
  readonly onBegin: () => void;
  readonly onCount: () => void;
  readonly onBack: () => void;
}

/** What stands open besides the checks; an earlier check is asked for again beside it. */
type Aside =
  | { readonly aside: "made" | "changed" | "missed" | "others" }
  | { readonly aside: "again"; readonly of: Check; readonly isTypingError: boolean };

export function CheckPage(props: CheckPageProps) {
  const { operation, plan, checks } = props;
  const moment = useMoment();
  const desk = checkDesk(checks, plan, operation, moment);
  const [chosen, setChosen] = useState<string>();
  const [aside, setAside] = useState<Aside>();
  const [isNotStored, setNotStored] = useState(false);
  const tell = async (told: Told): Promise<void> => {
    setNotStored((await props.onTell(told)) === undefined);
    setAside(undefined);
  };
  const parts = {
    ...props,
    desk,
    moment,
    asked: desk.now.find(({ due }) => nameOf(due) === chosen) ?? desk.now[0],
    out: outOf(checks, operation),
    tell: (told: Told) => void tell(told),
    setAside,
  };
  return (
    <main class="choice machine">
      <Head {...parts} />
      {isNotStored && (
        <p class="problem" role="alert">
          {say("tally.not_stored")}. {say("tally.not_stored_do")}
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
  readonly tell: (told: Told) => void;
  readonly setAside: (aside: Aside) => void;
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
function useMoment(): number {
  const [, setTick] = useState(0);
  useEffect(() => {
    const every = setInterval(() => setTick((tick) => tick + 1), MOMENT_MS);
    return () => clearInterval(every);
  }, []);
  return Date.now();
}

function Head({ batchNumber, operationName, desk, setAside, onBegin }: Parts) {
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
  const { operation, plan, checks, moment, asked, out, desk, tell, setAside } = props;
  const characteristic = out && plan.get(keyOf(out));
  if (out !== undefined && characteristic !== undefined) {
    return (
      <OutCard
        key={out.id}
        check={out}
        characteristic={characteristic}
        exposure={exposureOf(checks, characteristic, moment)}
        onAgain={(isTypingError) => setAside({ aside: "again", of: out, isTypingError })}
        onDone={(done, pieces_back) =>
          tell({ kind: "reaction_taken", body: { operation, check: out.root, done, pieces_back } })
        }
      >
        <Ways {...props} />
      </OutCard>
    );
  }
  if (asked === undefined) {
    const next = desk.later[0];
    return (
      <>
        <p class="empty">{say(desk.isRunning ? "check.none_due" : "check.not_started")}</p>
        {next !== undefined && <p>{sayNext(next)}</p>}
        <Ways {...props} />
      </>
    );
  }
  return (
    <CheckEntry
      key={`${nameOf(asked.due)} ${asked.due.left} ${checks.checks.length}`}
      characteristic={asked.characteristic}
      role={asked.due.role}
      left={asked.due.left}
      exposure={exposureOf(checks, asked.characteristic, moment)}
      before={lastValues(checks, asked.characteristic, SHOWN_VALUES)}
      again={undefined}
      onSeen={(seen) => tell(taken(props, asked.due, seen))}
    >
      <Ways {...props} />
    </CheckEntry>
  );
}

function taken({ operation, desk }: Parts, of: Asked["due"] | Check, seen: Seen, beside: object = {}): Told {
  const { characteristic, role } = of;
  const made = desk.made === "unknown" ? {} : { made: desk.made };
  return { kind: "check_taken", body: { operation, characteristic, role, ...seen, ...made, ...beside } };
}

/** The ways from what stands open: to the others that are due, past it, to the operations. */
function Ways({ desk, asked, out, setAside, onCount, onBack }: Parts) {
  return (
    <div class="head-keys">
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
        onPieces={(pieces) => tell({ kind: "pieces_made", body: { operation, pieces, counted: "key" } })}
      />
    );
  }
  if (aside.aside === "changed") {
    return <Changed onChange={(what) => tell({ kind: "operation_changed", body: { operation, what } })} />;
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
