// SPDX-License-Identifier: Apache-2.0
// The works' devices: who waits to be let in, who is in, and how another one comes in. Letting in and revoking are
// requests; the server answers them.
import { useState } from "preact/hooks";
import { integer, list, object, text, boolean } from "../records/shape.js";
import type { Draft } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { sayError } from "../words/errors.js";
import { age, moment } from "../words/measures.js";
import { say } from "../words/say.js";
import { AnswerOf, useRequest } from "../widgets/asked.js";
import { useReport } from "../widgets/report.js";
import { inHalves } from "./code_entry.js";
import { QrCode } from "./qr_code.js";
import "./works.css";

const word = text(0, 400);
const time = integer(0, Number.MAX_SAFE_INTEGER);
const device = { device: word, letters: word, name: word, revoked: boolean, heard_at: time };
const waiting = { key: word, name: word, number: word, asked_at: time };
const listShape = object(
  {
    needed: {
      as_of: time,
      devices: list(object({ needed: device }, true)),
      waiting: list(object({ needed: waiting }, true)),
    },
  },
  true,
);
const codeShape = object({ needed: { code: word, qr: list(text(1, 200), 1), trust_page: word } }, true);

interface NewlyMade {
  readonly code: string;
  readonly qr: readonly string[];
  /** Where a device learns to trust this server; empty where nobody has to. */
  readonly trust_page: string;
}

interface Device {
  readonly device: string;
  readonly letters: string;
  readonly name: string;
  readonly revoked: boolean;
  readonly heard_at: number;
}

interface WaitingDevice {
  readonly key: string;
  readonly name: string;
  readonly number: string;
  readonly asked_at: number;
}

interface Listed {
  readonly as_of: number;
  readonly devices: readonly Device[];
  readonly waiting: readonly WaitingDevice[];
}

function listedFrom(value: unknown): Listed | undefined {
  return listShape(value) === undefined ? (value as Listed) : undefined;
}

export function DevicesPage({ tablet }: { readonly tablet: Tablet }) {
  const [turn, setTurn] = useState(0);
  const { value: listed, problem } = useReport(tablet, "/devices", listedFrom, String(turn));
  const { asked, ask } = useRequest(tablet);
  return (
    <main class="choice works-page">
      <h1>{say("devices.title")}</h1>
      {problem !== undefined && (
        <p class="problem" role="alert">
          {sayError(problem)}
        </p>
      )}
      {tablet.isKept.value !== undefined && (
        <p class={tablet.isKept.value ? "empty" : "problem"}>
          {say(tablet.isKept.value ? "devices.kept" : "devices.not_kept")}
        </p>
      )}
      <AnswerOf tablet={tablet} asked={asked} />
      <NewCode tablet={tablet} />
      {listed !== undefined && (
        <>
          <WaitingList
            tablet={tablet}
            listed={listed}
            onAsked={(draft) => void ask(draft)}
            onTurnedAway={() => setTurn(turn + 1)}
          />
          <DeviceList devices={listed.devices} onAsked={(draft) => void ask(draft)} />
        </>
      )}
    </main>
  );
}

function NewCode({ tablet }: { readonly tablet: Tablet }) {
  const [made, setMade] = useState<NewlyMade>();
  const [problem, setProblem] = useState<string>();
  const make = async (): Promise<void> => {
    const answer = await tablet.ask("/enrolment-codes", {});
    if (!answer.ok) setProblem(sayError(answer.code));
    else if (codeShape(answer.value) !== undefined) setProblem(sayError("not-ours"));
    else setMade(answer.value as NewlyMade);
  };
  return (
    <section class="code-form">
      {problem !== undefined && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      {made !== undefined && (
        <div class="new-code">
          <QrCode rows={made.qr} label={say("devices.qr")} />
          <div>
            <p class="compare">{inHalves(made.code)}</p>
            <p>{say("devices.code_what")}</p>
            {made.trust_page !== "" && <p>{say("devices.trust_first", { address: made.trust_page })}</p>}
          </div>
        </div>
      )}
      <button type="button" class={`key ${made === undefined ? "main" : ""}`} onClick={() => void make()}>
        {say(made === undefined ? "devices.make_code" : "devices.make_another")}
      </button>
    </section>
  );
}

interface WaitingListProps {
  readonly tablet: Tablet;
  readonly listed: Listed;
  readonly onAsked: (draft: Draft) => void;
  readonly onTurnedAway: () => void;
}

function WaitingList({ tablet, listed, onAsked, onTurnedAway }: WaitingListProps) {
  const [problem, setProblem] = useState<string>();
  const turnAway = async (key: string): Promise<void> => {
    const answer = await tablet.ask("/devices/turned-away", { key });
    setProblem(answer.ok ? undefined : sayError(answer.code));
    onTurnedAway();
  };
  const devices = listed.waiting;
  if (devices.length === 0) return <p class="empty">{say("devices.nobody_waits")}</p>;
  return (
    <section>
      <h2>{say("devices.waiting")}</h2>
      <p>{say("devices.compare")}</p>
      {problem !== undefined && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      <ul class="device-list">
        {devices.map(({ key, name, number, asked_at }) => (
          <li key={key}>
            <strong>{name}</strong>
            <span class="compare">{`${number.slice(0, 3)} ${number.slice(3)}`}</span>
            <span>{say("devices.waits_since", { age: age(listed.as_of - asked_at) })}</span>
            <button type="button" class="key" onClick={() => void turnAway(key)}>
              {say("devices.turn_away", { name })}
            </button>
            <button
              type="button"
              class="key main"
              onClick={() => onAsked({ kind: "enrolment_requested", v: 1, body: { name, key } })}
            >
              {say("devices.let_in", { name })}
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

interface DeviceListProps {
  readonly devices: readonly Device[];
  readonly onAsked: (draft: Draft) => void;
}

function DeviceList({ devices, onAsked }: DeviceListProps) {
  const [doubted, setDoubted] = useState<string>();
  return (
    <section>
      <h2>{say("devices.known")}</h2>
      <ul class="device-list">
        {devices.map(({ device: id, letters, name, revoked, heard_at }) => (
          <li key={id}>
            <strong>
              {letters} {name}
            </strong>
            <span>
              {heard_at === 0 ? say("devices.never_heard") : say("devices.heard", { when: moment(heard_at) })}
            </span>
            {revoked && <span>{say("devices.revoked")}</span>}
            {!revoked && doubted !== id && (
              <button type="button" class="key" onClick={() => setDoubted(id)}>
                {say("devices.revoke")}
              </button>
            )}
            {!revoked && doubted === id && (
              <span class="doubt">
                {say("devices.revoke_what")}
                <button
                  type="button"
                  class="key"
                  onClick={() => {
                    const body = { device: id, why: "lost" };
                    onAsked({ kind: "revocation_requested", v: 1, body });
                    setDoubted(undefined);
                  }}
                >
                  {say("devices.revoke_sure", { letters })}
                </button>
                <button type="button" class="key" onClick={() => setDoubted(undefined)}>
                  {say("people.back")}
                </button>
              </span>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
