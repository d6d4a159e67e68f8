// SPDX-License-Identifier: Apache-2.0
// The Pareto and its keys: a bar that is tapped narrows to it, and then the stratum can be another.
import { useMemo, useState } from "preact/hooks";
import { partDefinitions, shiftDefinitions } from "../definitions/published.js";
import type { Tablet } from "../sync/contract.js";
import { say, type Key } from "../words/say.js";
import { Choice, Days } from "./choices.js";
import { barWords, STRATUM_WORDS, type Definitions } from "./bar_words.js";
import "./pareto.css";
import { ParetoFindings } from "./pareto_findings.js";
import {
  addressOf,
  FIRST_QUESTION,
  narrowed,
  wantedSpan,
  widened,
  type Axis,
  type Question,
  type Unit,
} from "./pareto_question.js";

const SPANS = {
  shift: "pareto.span_shift",
  shift_before: "pareto.span_shift_before",
  day: "pareto.span_day",
  week: "pareto.span_week",
  all: "pareto.span_all",
  days: "pareto.span_days",
} as const satisfies Readonly<Record<Question["span"], Key>>;
const UNITS = { marks: "pareto.by_marks", pieces: "pareto.by_pieces" } as const satisfies Readonly<
  Record<Unit, Key>
>;

const AXES = { found: "pareto.axis_found", made: "pareto.axis_made" } as const satisfies Readonly<
  Record<Axis, Key>
>;

export function ParetoPart({ tablet }: { readonly tablet: Tablet }) {
  const [question, setQuestion] = useState(FIRST_QUESTION);
  const [turn, setTurn] = useState(0);
  const records = tablet.records.value;
  const files = tablet.files.value;
  const definitions = useMemo(() => partDefinitions(records, files), [records, files]);
  const shifts = [...shiftDefinitions(records).values()].at(-1);
  // The end of a span is asked for once, so that one question stays one question while records come.
  const span = useMemo(
    () => wantedSpan(question, Date.now(), shifts),
    [question.span, question.days, shifts?.time_zone, turn],
  );
  // A day is chosen without a press that would have drawn what was chosen a moment ago.
  const change = (part: Partial<Question>): void => setQuestion((newest) => ({ ...newest, ...part }));
  return (
    <div class="pareto-part">
      <div class="choices">
        <Choice words={SPANS} chosen={question.span} onChosen={(name) => change({ span: name })} />
        <Choice words={UNITS} chosen={question.unit} onChosen={(unit) => change({ unit })} />
        <Choice words={AXES} chosen={question.axis} onChosen={(axis) => change({ axis })} />
        <button type="button" class="key" onClick={() => setTurn(turn + 1)}>
          {say("pareto.refresh")}
        </button>
      </div>
      {question.span === "days" && <Days days={question.days} onDays={(days) => change({ days })} />}
      <h3>{say("pareto.grouped")}</h3>
      <Choice words={STRATUM_WORDS} chosen={question.by} onChosen={(by) => change({ by })} />
      <Narrowing question={question} definitions={definitions} onChange={setQuestion} />
      {span === undefined ? (
        <p class="empty">{say("pareto.no_days")}</p>
      ) : (
        <ParetoFindings
          key={addressOf(question, span)}
          tablet={tablet}
          question={question}
          span={span}
          shifts={shifts}
          definitions={definitions}
          turn={turn}
          onBar={(bar) => setQuestion(narrowed(question, bar))}
        />
      )}
    </div>
  );
}

interface NarrowingProps {
  readonly question: Question;
  readonly definitions: Definitions;
  readonly onChange: (question: Question) => void;
}

/** The bars that were tapped, each a key that takes it off again. */
function Narrowing({ question, definitions, onChange }: NarrowingProps) {
  if (question.only.length === 0) return <p class="soft">{say("pareto.tap_a_bar")}</p>;
  return (
    <div class="choice-row narrowing">
      {question.only.map((one) => (
        <button
          key={one.stratum}
          type="button"
          class="key"
          aria-label={say("pareto.take_off", { name: barWords(one, definitions) })}
          onClick={() => onChange(widened(question, one.stratum))}
        >
          {say("pareto.only", {
            stratum: say(STRATUM_WORDS[one.stratum]),
            name: barWords(one, definitions),
          })}{" "}
          <svg viewBox="0 0 20 20" aria-hidden="true">
            <path d="M4 4L16 16M16 4L4 16" />
          </svg>
        </button>
      ))}
    </div>
  );
}
