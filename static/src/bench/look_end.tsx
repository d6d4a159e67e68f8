// SPDX-License-Identifier: Apache-2.0
// The end of a look: its ledger, every open point as a sentence, and the signature, which nothing open ever stops.
import { useState } from "preact/hooks";
import type { LookCount } from "../folds/ledger.js";
import type { Person } from "../definitions/people.js";
import { PinField } from "../widgets/pin_field.js";
import { NotStoredLine } from "../widgets/not_stored_line.js";
import { number } from "../words/measures.js";
import { lookName } from "../words/looks.js";
import { say, type Key } from "../words/say.js";
import type { OpenPoints } from "./look_points.js";
import "./look_pages.css";
import "./trays.css";

export interface LookEndProps {
  readonly batchNumber: string;
  readonly look: string;
  readonly page: LookCount | undefined;
  readonly points: OpenPoints;
  /** True where no point is open and nothing is left that this tablet cannot know. */
  readonly isComplete: boolean;
  readonly isWhole: boolean;
  /** True where earlier looks were not heard of: whose eyes were new is then not known. */
  readonly areEyesUnknown: boolean;
  readonly signedBy: string;
  readonly person: Person | undefined;
  readonly onSign: (pin: string) => Promise<boolean>;
  readonly onBack: () => void;
}

export function LookEnd(props: LookEndProps) {
  const { points, isComplete, person } = props;
  return (
    <main class="choice look-end">
      <h1>{say("look.sign")}</h1>
      <p class="on-bench">
        {props.batchNumber} <small>{lookName(props.look)}</small>
      </p>
      {isComplete && <p class="done">{say("sign.complete")}</p>}
      {props.signedBy !== "" && <p class="done">{say("sign.signed_by", { person: props.signedBy })}</p>}
      {props.page !== undefined && <LedgerOf page={props.page} />}
      {!props.isWhole && <p class="as-of">{say("tray.not_whole")}</p>}
      {props.areEyesUnknown && <p class="as-of">{say("eyes.not_known")}</p>}
      {points.counts.length + points.named.length > 0 && (
        <section>
          <h2>{say("sign.open")}</h2>
          <ul class="sentences">
            {[...points.counts, ...points.named].map((line, at) => (
              <li key={at}>{line}</li>
            ))}
          </ul>
        </section>
      )}
      {person !== undefined && <Sign person={person} onSign={props.onSign} />}
      <button type="button" class="key not-yet" onClick={props.onBack}>
        {say("nav.trays")}
      </button>
    </main>
  );
}

type Term = "due" | "looked" | "accepted" | "rejected" | "rework" | "query";
const TERMS: readonly (readonly [Term, Key])[] = [
  ["due", "tray.due"],
  ["looked", "tray.looked_at"],
  ["accepted", "end.accepted"],
  ["rejected", "tally.rejects"],
  ["rework", "sign.rework"],
  ["query", "tally.queries"],
];

function LedgerOf({ page }: { readonly page: LookCount }) {
  const isCounted = page.counted_by !== "";
  return (
    <dl class="tray-numbers">
      {TERMS.filter(([term]) => term !== "due" || isCounted).map(([term, key]) => (
        <div key={term}>
          <dd>{number(page[term])}</dd>
          <dt>{say(key)}</dt>
        </div>
      ))}
    </dl>
  );
}

interface SignProps {
  readonly person: Person;
  readonly onSign: (pin: string) => Promise<boolean>;
}

function Sign({ person, onSign }: SignProps) {
  const [pin, setPin] = useState("");
  const [said, setSaid] = useState<"missing" | "not_stored" | "stored">();
  const sign = async (): Promise<void> => {
    if (pin === "") return setSaid("missing");
    const given = pin;
    setPin("");
    setSaid((await onSign(given)) ? "stored" : "not_stored");
  };
  return (
    <section class="sign">
      <p>{say("sign.what")}</p>
      <PinField
        label={say("holds.pin", { name: person.name })}
        hint={say("sign.pin_what")}
        value={pin}
        onChange={setPin}
      />
      {said === "missing" && (
        <p class="problem" role="alert">
          {say("sign.pin_missing")}
        </p>
      )}
      {said === "not_stored" && <NotStoredLine />}
      {said === "stored" && (
        <p class="done" role="status">
          {say("sign.stored")}
        </p>
      )}
      <button type="button" class="key main" onClick={() => void sign()}>
        {say("sign.act")}
      </button>
    </section>
  );
}
