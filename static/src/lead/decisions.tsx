// SPDX-License-Identifier: Apache-2.0
// What a lead does on a batch's page: accept a difference, ask for the release, place a hold. The first two are
// requests on what the page shows, and take effect only when the server grants them under two names.
import { useState } from "preact/hooks";
import type { Person } from "../definitions/people.js";
import type { Point } from "../folds/look.js";
import type { Tablet } from "../sync/contract.js";
import { AnswerOf, useRequest } from "../widgets/asked.js";
import { PinField } from "../widgets/pin_field.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { say } from "../words/say.js";

/** `seen` is what the page rests on: the server declines what was asked on an older state. */
export interface Desk {
  readonly tablet: Tablet;
  readonly batch: string;
  readonly person: Person;
  readonly seen: readonly { readonly chain: string; readonly n: number }[];
  readonly hasContact: boolean;
}

const isLead = ({ person }: Desk): boolean => person.roles.includes("lead");

/** A key beside a point, and behind it the reason and the asking. `look` is '' for a difference of the batch. */
export function AcceptPoint({ desk, point, look }: { desk: Desk; point: Point; look: string }) {
  const [isOpen, setOpen] = useState(false);
  const [why, setWhy] = useState("");
  const [isMissing, setMissing] = useState(false);
  const { asked, ask } = useRequest(desk.tablet);
  if (!isLead(desk) || !desk.hasContact) return null;
  const send = (): void => {
    setMissing(why.trim() === "");
    if (why.trim() === "") return;
    setOpen(false);
    const { kind: difference, subject, amount } = point;
    const body = { difference, subject, amount, seen: [...desk.seen], why: why.trim() };
    void ask({
      kind: "difference_acceptance_requested",
      v: 1,
      batch: desk.batch,
      body: look === "" ? body : { ...body, look },
    });
  };
  return (
    <div class="accept">
      {isOpen ? (
        <>
          <p class="caution">{say("accept.what")}</p>
          <Why label={say("accept.why")} value={why} onChange={setWhy} isMissing={isMissing} />
          <div class="choices">
            <button type="button" class="key main" onClick={send}>
              {say("accept.ask")}
            </button>
            <button type="button" class="key" onClick={() => setOpen(false)}>
              {say("people.back")}
            </button>
          </div>
        </>
      ) : (
        <button type="button" class="key" onClick={() => setOpen(true)}>
          {say("accept.open")}
        </button>
      )}
      <AnswerOf tablet={desk.tablet} asked={asked} />
    </div>
  );
}

export function AskRelease({ desk, canBe }: { readonly desk: Desk; readonly canBe: boolean }) {
  const [why, setWhy] = useState("");
  const [pin, setPin] = useState("");
  const [isMissing, setMissing] = useState(false);
  const { asked, askWithPin } = useRequest(desk.tablet);
  const send = (): void => {
    setMissing(pin === "");
    if (pin === "") return;
    setPin("");
    const note = why.trim();
    const seen = [...desk.seen];
    const body = note === "" ? { seen } : { seen, why: note };
    const draft = { kind: "release_requested", v: 1, batch: desk.batch, body } as const;
    void askWithPin(desk.person.id, pin, draft);
  };
  return (
    <section class="held-batch">
      <h2>{say("release.title")}</h2>
      <p class="caution">{say("release.caution")}</p>
      <AnswerOf tablet={desk.tablet} asked={asked} />
      {!canBe && <p>{say("release.not_yet")}</p>}
      {canBe && !desk.hasContact && <p>{say("asked.no_contact")}</p>}
      {canBe && desk.hasContact && !isLead(desk) && <p>{say("release.for_leads")}</p>}
      {canBe && desk.hasContact && isLead(desk) && (
        <>
          <Why label={say("release.note")} value={why} onChange={setWhy} isMissing={false} />
          <PinField
            label={say("holds.pin", { name: desk.person.name })}
            hint={say("holds.pin_what")}
            value={pin}
            onChange={setPin}
          />
          {isMissing && (
            <p class="problem" role="alert">
              {say("release.pin_missing")}
            </p>
          )}
          <button type="button" class="key main apart" onClick={send}>
            {say("release.ask")}
          </button>
        </>
      )}
    </section>
  );
}

/** To say stop needs no contact and no yes: the hold stands once it is stored, and travels with the other records. */
export function PlaceHold({ desk }: { readonly desk: Desk }) {
  const [isOpen, setOpen] = useState(false);
  const [why, setWhy] = useState("");
  const [isMissing, setMissing] = useState(false);
  const [fate, setFate] = useState<"stored" | "not_stored">();
  const place = async (): Promise<void> => {
    setMissing(why.trim() === "");
    if (why.trim() === "") return;
    const { tablet, batch } = desk;
    const answer = await tablet.add({ kind: "hold_placed", v: 1, batch, body: { why: why.trim() } });
    setFate(answer.stored ? "stored" : "not_stored");
    if (!answer.stored) return;
    setOpen(false);
    setWhy("");
    tablet.syncNow();
  };
  return (
    <div class="accept">
      {fate === "stored" && (
        <p class="done" role="status">
          {say("place.stored")}
        </p>
      )}
      {fate === "not_stored" && <NotStoredLine />}
      {isOpen ? (
        <>
          <Why label={say("place.why")} value={why} onChange={setWhy} isMissing={isMissing} />
          <div class="choices">
            <button type="button" class="key main" onClick={() => void place()}>
              {say("place.act")}
            </button>
            <button type="button" class="key" onClick={() => setOpen(false)}>
              {say("people.back")}
            </button>
          </div>
        </>
      ) : (
        <button type="button" class="key" onClick={() => setOpen(true)}>
          {say("place.open")}
        </button>
      )}
    </div>
  );
}

interface WhyProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly isMissing: boolean;
}

function Why({ label, value, onChange, isMissing }: WhyProps) {
  return (
    <label class="field is-wide">
      <span>{label}</span>
      <input value={value} maxLength={200} onInput={(event) => onChange(event.currentTarget.value)} />
      {isMissing && (
        <small class="problem" role="alert">
          {say("accept.why_missing")}
        </small>
      )}
    </label>
  );
}
