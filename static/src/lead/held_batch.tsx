// SPDX-License-Identifier: Apache-2.0
// One batch's holds, pieces nobody was sure of, and what was asked about them. A lift is asked for with a PIN given for
// it alone: the request stands directly behind its own sign-on.
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { PartDefinition, ReadRecord } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import type { Asking } from "../widgets/asked.js";
import { PinField } from "../widgets/pin_field.js";
import { moment } from "../words/measures.js";
import { say } from "../words/say.js";
import { causeOf, placeOf } from "./hold_words.js";
import "./holds.css";
import type { HeldBatch, HoldLine, HoldsList, RequestLine } from "./holds_list.js";
import { Pictures } from "./pictures.js";
import { QueriesPart } from "./queries_part.js";
import { RequestsPart, type AskedLine } from "./requests_part.js";

export interface HeldBatchProps {
  readonly tablet: Tablet;
  readonly person: Person;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
  readonly hasContact: boolean;
  readonly batch: HeldBatch;
  readonly listed: HoldsList;
  readonly asking: Asking;
}

export function HeldBatchPart(props: HeldBatchProps) {
  const { tablet, batch, listed, person, definitions, asking, hasContact } = props;
  const of = <Line extends { readonly batch: string }>(lines: readonly Line[]): readonly Line[] =>
    lines.filter((line) => line.batch === batch.batch);
  const holds = [...of(listed.holds)].sort(criticalFirst);
  const queries = of(listed.queries);
  const requests = of(listed.requests);
  const about = { v: 1, batch: batch.batch } as const;
  const seen = [...batch.seen];
  // Anybody here may read; a lead asks, and only with contact.
  const mayAsk = hasContact && person.roles.includes("lead");
  return (
    <section class="held-batch">
      <h2>{say("holds.batch", { number: batch.number })}</h2>
      {holds.length > 0 && (
        <Lift
          holds={holds}
          person={person}
          definitions={definitions}
          mayAsk={mayAsk}
          onLift={(names, why, pin) => {
            const body = { holds: names, seen, why };
            void asking.askWithPin(person.id, pin, { ...about, kind: "hold_lift_requested", body });
          }}
        />
      )}
      {queries.length > 0 && (
        <>
          <h3>{say("holds.queries")}</h3>
          <QueriesPart queries={queries} seen={batch.seen} mayAsk={mayAsk} asking={asking} />
        </>
      )}
      {requests.length > 0 && (
        <RequestsPart
          tablet={tablet}
          batch={batch.batch}
          requests={requests.map((one) => askedLine(one, tablet.records.value))}
          person={person}
          hasContact={hasContact}
        />
      )}
    </section>
  );
}

function criticalFirst(left: HoldLine, right: HoldLine): number {
  return Number(right.cause === "critical") - Number(left.cause === "critical") || left.at - right.at;
}

interface LiftProps {
  readonly mayAsk: boolean;
  readonly holds: readonly HoldLine[];
  readonly person: Person;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
  readonly onLift: (holds: string[], why: string, pin: string) => void;
}

function Lift({ mayAsk, holds, person, definitions, onLift }: LiftProps) {
  const [chosen, setChosen] = useState<readonly string[]>([]);
  const [why, setWhy] = useState("");
  const [pin, setPin] = useState("");
  const [isMissing, setMissing] = useState(false);
  // One that was chosen and is lifted meanwhile is asked for no more.
  const names = holds.map((line) => line.hold).filter((name) => chosen.includes(name));
  const toggle = (name: string): void =>
    setChosen(chosen.includes(name) ? chosen.filter((one) => one !== name) : [...chosen, name]);
  const send = (): void => {
    setMissing(why.trim() === "" || pin === "");
    if (why.trim() === "" || pin === "") return;
    setPin("");
    setChosen([]);
    onLift(names, why.trim(), pin);
  };
  return (
    <>
      <ul class="hold-list">
        {holds.map((line) => (
          <li key={line.hold} class={line.cause === "critical" ? "is-critical" : ""}>
            <strong>{causeOf(line, definitions)}</strong>
            {placeOf(line) !== "" && <span>{placeOf(line)}</span>}
            <span>{moment(line.at)}</span>
            {line.cause_withdrawn && <span>{say("holds.cause_withdrawn")}</span>}
            <Pictures of={line} />
            {mayAsk && (
              <button
                type="button"
                class="key"
                aria-pressed={chosen.includes(line.hold)}
                onClick={() => toggle(line.hold)}
              >
                {say(chosen.includes(line.hold) ? "holds.chosen" : "holds.choose")}
              </button>
            )}
          </li>
        ))}
      </ul>
      {mayAsk && names.length > 0 && (
        <>
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
      )}
    </>
  );
}

/** A request as its line; what it names and who asked stand in the record, where this tablet has it. */
function askedLine(one: RequestLine, records: readonly ReadRecord[]): AskedLine {
  const asked = records.find(({ id }) => id === one.request);
  const signOn = records.find(({ id }) => id === asked?.sign_on)?.known;
  const body = asked?.known?.body;
  return {
    ...one,
    asker: signOn?.kind === "signed_on" ? signOn.body.person : "",
    about: body !== undefined && "why" in body ? (body.why ?? "") : "",
    names: [],
  };
}
