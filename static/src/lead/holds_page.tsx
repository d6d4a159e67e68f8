// SPDX-License-Identifier: Apache-2.0
// What stands in a batch's way: holds, pieces nobody was sure of, and what was asked about them. A lift is asked for
// with a PIN given for it alone: the request stands directly behind its own sign-on.
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { PartDefinition } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { AnswerOf, useRequest, type Asking } from "../widgets/asked.js";
import { PinField } from "../widgets/pin_field.js";
import { useReport } from "../widgets/report.js";
import { sayError } from "../words/errors.js";
import { moment } from "../words/measures.js";
import { lookName } from "../words/looks.js";
import { sayReasons } from "../words/reasons.js";
import { inOneLine, inWords, say, type Key } from "../words/say.js";
import "./holds.css";
import {
  holdsFrom,
  type HeldBatch,
  type HoldLine,
  type HoldsList,
  type QueryLine,
  type RequestLine,
} from "./holds_list.js";

const VERDICTS = { accept: "holds.accept", rework: "holds.rework", reject: "holds.reject" } as const;
type Verdict = keyof typeof VERDICTS;

export interface HoldsPageProps {
  readonly tablet: Tablet;
  readonly person: Person;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
}

export function HoldsPage({ tablet, person, definitions }: HoldsPageProps) {
  const { value: listed, problem } = useReport(tablet, "/holds", holdsFrom);
  const asking = useRequest(tablet);
  return (
    <main class="choice holds">
      <h1>{say("holds.title")}</h1>
      {problem !== undefined && (
        <p class="problem" role="alert">
          {sayError(problem)}
        </p>
      )}
      <AnswerOf tablet={tablet} asked={asking.asked} />
      {listed !== undefined && (
        <>
          <p class="as-of">{say("holds.as_of", { when: moment(listed.as_of) })}</p>
          {listed.holds.length + listed.queries.length === 0 && <p class="empty">{say("holds.none")}</p>}
          {listed.batches.map((batch) => (
            <OfBatch
              key={batch.batch}
              batch={batch}
              listed={listed}
              person={person}
              definitions={definitions}
              asking={asking}
            />
          ))}
        </>
      )}
    </main>
  );
}

interface OfBatchProps extends Omit<HoldsPageProps, "tablet"> {
  readonly batch: HeldBatch;
  readonly listed: HoldsList;
  readonly asking: Asking;
}

function OfBatch({ batch, listed, person, definitions, asking }: OfBatchProps) {
  const of = <Line extends { readonly batch: string }>(lines: readonly Line[]): readonly Line[] =>
    lines.filter((line) => line.batch === batch.batch);
  const holds = [...of(listed.holds)].sort(criticalFirst);
  const queries = of(listed.queries);
  const requests = of(listed.requests);
  const about = { v: 1, batch: batch.batch } as const;
  const seen = [...batch.seen];
  return (
    <section class="held-batch">
      <h2>{say("holds.batch", { number: batch.number })}</h2>
      {holds.length > 0 && (
        <Lift
          holds={holds}
          person={person}
          definitions={definitions}
          onLift={(names, why, pin) => {
            const body = { holds: names, seen, why };
            void asking.askWithPin(person.id, pin, { ...about, kind: "hold_lift_requested", body });
          }}
        />
      )}
      {queries.length > 0 && (
        <Queries
          queries={queries}
          onVerdict={({ piece, look }, verdict) => {
            const body = { piece, look, verdict, seen };
            void asking.ask({ ...about, kind: "disposition_requested", body });
          }}
        />
      )}
      {requests.length > 0 && (
        <Requests
          requests={requests}
          person={person}
          onSecond={(request, pin) => {
            const body = { request };
            void asking.askWithPin(person.id, pin, { ...about, kind: "request_seconded", body }, request);
          }}
        />
      )}
    </section>
  );
}

function criticalFirst(left: HoldLine, right: HoldLine): number {
  return Number(right.cause === "critical") - Number(left.cause === "critical") || left.at - right.at;
}

interface LiftProps {
  readonly holds: readonly HoldLine[];
  readonly person: Person;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
  readonly onLift: (holds: string[], why: string, pin: string) => void;
}

function Lift({ holds, person, definitions, onLift }: LiftProps) {
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [why, setWhy] = useState("");
  const [pin, setPin] = useState("");
  const [isMissing, setMissing] = useState(false);
  const toggle = (name: string): void =>
    setChosen(chosen.includes(name) ? chosen.filter((one) => one !== name) : [...chosen, name]);
  const send = (): void => {
    const names = holds.map((line) => line.hold).filter((name) => chosen.includes(name));
    setMissing(names.length === 0 || why.trim() === "" || pin === "");
    if (names.length === 0 || why.trim() === "" || pin === "") return;
    setPin("");
    setChosen([]);
    onLift(names, why.trim(), pin);
  };
  return (
    <>
      <p class="caution">{say("holds.caution")}</p>
      <ul class="hold-list">
        {holds.map((line) => (
          <li key={line.hold} class={line.cause === "critical" ? "is-critical" : ""}>
            <strong>{causeOf(line, definitions)}</strong>
            <span>{moment(line.at)}</span>
            {line.cause_withdrawn && <span>{say("holds.cause_withdrawn")}</span>}
            <button
              type="button"
              class="key"
              aria-pressed={chosen.includes(line.hold)}
              onClick={() => toggle(line.hold)}
            >
              {say(chosen.includes(line.hold) ? "holds.chosen" : "holds.choose")}
            </button>
          </li>
        ))}
      </ul>
      {isMissing && (
        <p class="problem" role="alert">
          {say("holds.missing")}
        </p>
      )}
      <label class="field">
        <span>{say("holds.why")}</span>
        <input value={why} maxLength={200} onInput={(event) => setWhy(event.currentTarget.value)} />
      </label>
      <PinField
        label={say("holds.pin", { name: person.name })}
        hint={say("holds.pin_what")}
        value={pin}
        onChange={setPin}
      />
      <button type="button" class="key main" onClick={send}>
        {say("holds.ask")}
      </button>
    </>
  );
}

/** The finder's word in the reader's language, from the newest list that has it; or the sentence of whoever said stop. */
function causeOf(line: HoldLine, definitions: ReadonlyMap<string, PartDefinition>): string {
  if (line.cause !== "critical") return say("holds.placed", { why: line.said });
  const lists = [...definitions.values()].reverse();
  const found = lists.flatMap((list) => list.defects).find((entry) => entry.defect === line.said);
  return say("holds.critical", { word: found === undefined ? line.said : inOneLine(inWords(found.key)) });
}

interface QueriesProps {
  readonly queries: readonly QueryLine[];
  readonly onVerdict: (query: QueryLine, verdict: Verdict) => void;
}

function Queries({ queries, onVerdict }: QueriesProps) {
  return (
    <>
      <h3>{say("holds.queries")}</h3>
      <ul class="hold-list">
        {queries.map((query) => (
          <li key={`${query.look} ${query.piece}`}>
            <span>{say("holds.query", { look: lookName(query.look), when: moment(query.at) })}</span>
            {(Object.keys(VERDICTS) as Verdict[]).map((verdict) => (
              <button key={verdict} type="button" class="key" onClick={() => onVerdict(query, verdict)}>
                {say(VERDICTS[verdict])}
              </button>
            ))}
          </li>
        ))}
      </ul>
    </>
  );
}

interface RequestsProps {
  readonly requests: readonly RequestLine[];
  readonly person: Person;
  readonly onSecond: (request: string, pin: string) => void;
}

const KINDS: Readonly<Record<string, Key>> = {
  hold_lift_requested: "holds.lift",
  disposition_requested: "holds.verdict",
};

function Requests({ requests, person, onSecond }: RequestsProps) {
  const [pin, setPin] = useState("");
  const lifts = requests.filter((one) => one.state === "open" && one.kind === "hold_lift_requested");
  return (
    <>
      <h3>{say("holds.requests")}</h3>
      <ul class="hold-list">
        {requests.map((one) => (
          <li key={one.request}>
            <strong>{say(KINDS[one.kind] ?? "holds.verdict")}</strong>
            <span>{moment(one.asked_at)}</span>
            <span>{stateOf(one)}</span>
            {lifts.includes(one) && (
              <button
                type="button"
                class="key"
                disabled={pin === ""}
                onClick={() => {
                  onSecond(one.request, pin);
                  setPin("");
                }}
              >
                {say("holds.second")}
              </button>
            )}
          </li>
        ))}
      </ul>
      {lifts.length > 0 && (
        <>
          <p>{say("holds.two_names")}</p>
          <PinField
            label={say("holds.pin", { name: person.name })}
            hint={say("holds.pin_what")}
            value={pin}
            onChange={setPin}
          />
        </>
      )}
    </>
  );
}

function stateOf({ state, reasons }: RequestLine): string {
  if (state === "granted") return say("holds.granted");
  return state === "open" ? say("holds.open") : say("holds.declined", { why: sayReasons(reasons) });
}
