// SPDX-License-Identifier: Apache-2.0
// One check that is due: what is checked, its limits in grey, an empty field or two keys.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import type { Check, Made } from "../folds/checks.js";
import type { Standing } from "../folds/gauges.js";
import type { Characteristic, CheckRole } from "../records/kinds.js";
import { usePedal } from "../widgets/pedal.js";
import { ROLE_WORDS } from "../words/checks.js";
import { asRead, number, pointOf } from "../words/measures.js";
import { inWords, say } from "../words/say.js";
import { entryOf } from "./check_desk.js";
import type { GaugeStanding } from "./gauge_desk.js";
import { GaugeLine } from "./gauge_line.js";
import { LastValues } from "./last_values.js";
import { NumberField, NumberPad } from "./number_pad.js";
import { isNumber, readingOf, stepOf, takesSteps, type Reading } from "./reading.js";

/** What was seen: a number as the gauge showed it, or an answer and the pieces it holds for. */
export type Seen = Reading | { readonly result: "go" | "not_go" | "yes" | "no"; readonly pieces?: number };

/** A number from a gauge that types like a keyboard. */
export interface Sent {
  readonly value: string;
  /** Counts them: the same number may come again. */
  readonly nth: number;
}

export interface CheckEntryProps {
  readonly characteristic: Characteristic;
  readonly role: CheckRole;
  readonly left: number;
  readonly exposure: Made;
  readonly before: readonly Check[];
  /** What an earlier value is worth by its gauge. */
  readonly standingOf: (check: Check) => Standing;
  /** The gauge in hand, and how it stands for this; undefined where nobody named one. */
  readonly gauge: GaugeStanding | undefined;
  /** Why it is asked once more, beside an earlier check; undefined for a new one. */
  readonly again: string | undefined;
  /** What a gauge sent since this check stands open; it stands in the field until it is stored. */
  readonly sent: Sent | undefined;
  readonly onSeen: (seen: Seen) => void;
  /** Keys that lead elsewhere. */
  readonly children?: ComponentChildren;
}

export function CheckEntry(props: CheckEntryProps) {
  const { characteristic } = props;
  const entry = entryOf(characteristic);
  return (
    <section class="check-entry">
      {entry === "number" ? (
        <NumberEntry {...props} />
      ) : (
        <>
          <div class="check-asked">
            <About {...props} />
            <Exposure pieces={props.exposure} />
            {props.children}
          </div>
          <Answers {...props} entry={entry} />
        </>
      )}
    </section>
  );
}

function NumberEntry(props: CheckEntryProps) {
  const { characteristic, sent, onSeen } = props;
  const [typed, setTyped] = useState("");
  const [problem, setProblem] = useState<string>();
  // What is typed afterwards is typed: only the number as it came is the gauge's.
  const [took, setTook] = useState<Sent>();
  if (sent !== undefined && sent.nth !== took?.nth) {
    setTook(sent);
    setTyped(sent.value);
    setProblem(undefined);
  }
  const isSent = took !== undefined && typed === took.value;
  const step = stepOf(characteristic);
  const read = readingOf(typed, characteristic, step);
  const seen: Reading | undefined = isSent ? { value: typed, entered: "gauge" } : read;
  const store = (): void => {
    setProblem(seen === undefined ? say("check.no_number", { point: pointOf() }) : undefined);
    if (seen !== undefined) onSeen(seen);
  };
  usePedal({ store });
  const unit = characteristic.unit ?? "";
  return (
    <>
      <div class="check-asked">
        <About {...props} />
        <NumberField
          value={typed}
          label={inWords(characteristic.words)}
          unit={unit}
          problem={problem}
          onChange={setTyped}
          onEnter={store}
        />
        {isSent && <p class="reading-full">{say("check.from_gauge")}</p>}
        {!isSent && /^[+-]/.test(typed) && takesSteps(characteristic) && (
          <p class="reading-full" role="status">
            <strong>
              {seen === undefined ? "…" : asRead(seen.value)} {unit}
            </strong>
            {say("check.steps_of", { step: asRead(step), nominal: asRead(characteristic.nominal ?? "") })}
          </p>
        )}
        <Exposure pieces={props.exposure} />
        <LastValues checks={props.before} characteristic={characteristic} standingOf={props.standingOf} />
      </div>
      <NumberPad value={typed} signs={signsOf(characteristic)} onChange={setTyped}>
        <button type="button" class="key main store" onClick={store}>
          {say("check.store")}
        </button>
      </NumberPad>
      <div class="ways">{props.children}</div>
    </>
  );
}

function signsOf(characteristic: Characteristic): "steps" | "below_zero" | undefined {
  if (takesSteps(characteristic)) return "steps";
  return characteristic.lower?.startsWith("-") === true ? "below_zero" : undefined;
}

function About({ characteristic, role, left, again, gauge }: CheckEntryProps) {
  const { lower, upper, nominal, unit = "", gauge: measured } = characteristic;
  // What is to be taken is said until it is in hand.
  const isOfKind = gauge !== undefined && !["wrong_kind", "not_known"].includes(gauge.standing);
  const limits =
    lower !== undefined && upper !== undefined
      ? say("check.between", { lower: asRead(lower), upper: asRead(upper), unit })
      : lower !== undefined
        ? say("check.from", { lower: asRead(lower), unit })
        : upper !== undefined
          ? say("check.up_to", { upper: asRead(upper), unit })
          : "";
  return (
    <>
      <p class="role">
        {say(ROLE_WORDS[role])}
        {left > 1 && <span>{say("check.left", { count: left })}</span>}
      </p>
      <h1>{inWords(characteristic.words)}</h1>
      {again !== undefined && <p class="again">{again}</p>}
      <p class="limits">
        {nominal !== undefined && (
          <span>
            {isNumber(nominal)
              ? say("check.nominal", { nominal: asRead(nominal) })
              : say("check.as_it_should_be", { what: nominal })}
          </span>
        )}
        {limits !== "" && <span>{limits}</span>}
        {measured !== undefined && !isOfKind && <span>{measured}</span>}
        {gauge !== undefined && <GaugeLine {...gauge} />}
      </p>
    </>
  );
}

export function Exposure({ pieces }: { readonly pieces: Made }) {
  return (
    <p class="exposure">
      {say("check.since_good")}{" "}
      <strong>{pieces === "unknown" ? say("check.not_known") : number(pieces)}</strong>
    </p>
  );
}

interface AnswersProps extends CheckEntryProps {
  readonly entry: "go_not_go" | "yes_no";
}

/** One answer holds for all the pieces that are due; a bad one is said of one piece. */
function Answers({ entry, left, onSeen }: AnswersProps) {
  const pieces = left > 1 ? { pieces: left } : {};
  const [good, bad] = entry === "go_not_go" ? (["go", "not_go"] as const) : (["yes", "no"] as const);
  return (
    <div class="answers">
      <button type="button" class="key main" onClick={() => onSeen({ result: good, ...pieces })}>
        {say(entry === "go_not_go" ? "check.go" : "check.yes")}
        {left > 1 && <small>{say("check.all_of", { count: left })}</small>}
      </button>
      <button type="button" class="key" onClick={() => onSeen({ result: bad })}>
        {say(entry === "go_not_go" ? "check.not_go" : "check.no")}
        {left > 1 && <small>{say("check.one_of_them")}</small>}
      </button>
    </div>
  );
}
