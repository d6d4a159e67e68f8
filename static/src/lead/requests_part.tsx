// SPDX-License-Identifier: Apache-2.0
// What was asked about a batch and what became of it; and the second name, with a PIN given for it alone.
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { Tablet } from "../sync/contract.js";
import { AnswerOf, useRequest } from "../widgets/asked.js";
import { PinField } from "../widgets/pin_field.js";
import { moment } from "../words/measures.js";
import { sayReasons } from "../words/reasons.js";
import { say, type Key } from "../words/say.js";

/**
 * asker  a person's id; '' where this list does not say it
 * about  what the request names, as far as it is known here
 * names  of who asked and who seconded
 */
export interface AskedLine {
  readonly request: string;
  readonly kind: string;
  readonly state: string;
  readonly reasons: readonly string[];
  readonly asked_at: number;
  readonly asker: string;
  readonly about: string;
  readonly names: readonly string[];
}

/** What a second name is put under; whether one is due the server says. */
const SECONDED = ["hold_lift_requested", "difference_acceptance_requested", "release_requested"];
const MAY_SECOND = ["lead", "inspector"];

const KINDS = {
  hold_lift_requested: "holds.lift",
  disposition_requested: "holds.verdict",
  difference_acceptance_requested: "asked.acceptance",
  release_requested: "asked.release",
} as const satisfies Readonly<Record<string, Key>>;

export interface RequestsPartProps {
  readonly tablet: Tablet;
  readonly batch: string;
  readonly requests: readonly AskedLine[];
  readonly person: Person;
  readonly hasContact: boolean;
}

export function RequestsPart({ tablet, batch, requests, person, hasContact }: RequestsPartProps) {
  const [pin, setPin] = useState("");
  const { asked, askWithPin } = useRequest(tablet);
  const mayPut = hasContact && person.roles.some((role) => MAY_SECOND.includes(role));
  const waiting = requests.filter(
    // Nobody puts a second name under an own request.
    (one) => mayPut && one.state === "open" && SECONDED.includes(one.kind) && one.asker !== person.id,
  );
  const put = (request: string): void => {
    setPin("");
    const draft = { kind: "request_seconded", v: 1, batch, body: { request } } as const;
    void askWithPin(person.id, pin, draft, request);
  };
  return (
    <>
      <h3>{say("holds.requests")}</h3>
      <ul class="hold-list">
        {requests.map((one) => (
          <li key={one.request}>
            <strong>{kindName(one.kind)}</strong>
            {one.about !== "" && <span class="about">{one.about}</span>}
            <span>{moment(one.asked_at)}</span>
            {one.names.length > 0 && <span>{one.names.join(", ")}</span>}
            <span>{stateOf(one)}</span>
            {waiting.includes(one) && (
              <button type="button" class="key" disabled={pin === ""} onClick={() => put(one.request)}>
                {say("holds.second")}
              </button>
            )}
          </li>
        ))}
      </ul>
      <AnswerOf tablet={tablet} asked={asked} />
      {waiting.length > 0 && (
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

function kindName(kind: string): string {
  return say(Object.hasOwn(KINDS, kind) ? KINDS[kind as keyof typeof KINDS] : "asked.other");
}

function stateOf({ state, reasons }: AskedLine): string {
  if (state === "granted") return say("holds.granted");
  return state === "open" ? say("holds.open") : say("holds.declined", { why: sayReasons(reasons) });
}
