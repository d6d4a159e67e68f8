// SPDX-License-Identifier: Apache-2.0
// What was found, the most frequent first: over the shift of now unless another span is asked for.
import { useEffect, useState } from "preact/hooks";
import { partDefinitions, shiftDefinitions } from "../definitions/published.js";
import { NOT_SURE, type PartDefinition } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { age, clock, moment, number, percent } from "../words/measures.js";
import { inOneLine, inWords, say, type Key } from "../words/say.js";
import { ParetoChart, type ChartBar } from "./pareto_chart.js";
import "./pareto.css";
import { byPieces, fromServer, fromTablet, type ParetoView } from "./pareto_view.js";
import { spanOf, type SpanName } from "./spans.js";

const SPANS: readonly (readonly [SpanName, Key])[] = [
  ["shift", "pareto.span_shift"],
  ["day", "pareto.span_day"],
  ["all", "pareto.span_all"],
];
type Unit = "marks" | "pieces";
const UNITS: readonly (readonly [Unit, Key])[] = [
  ["marks", "pareto.by_marks"],
  ["pieces", "pareto.by_pieces"],
];

interface Shown {
  readonly view: ParetoView;
  readonly at: number;
  /** The site's zone: a shift begins by the clock on the works' wall, wherever the tablet is. */
  readonly zone: string | undefined;
  /** The server keeps its own for other roles than that of whoever is signed on. */
  readonly isForOthers: boolean;
}

export function ParetoPage({ tablet }: { readonly tablet: Tablet }) {
  const [span, setSpan] = useState<SpanName>("shift");
  const [unit, setUnit] = useState<Unit>("marks");
  const [asked, setAsked] = useState(0);
  const shown = useView(tablet, span, asked);
  const definitions = partDefinitions(tablet.records.value, tablet.files.value);
  return (
    <main class="pareto">
      <h1>{say("pareto.title")}</h1>
      <div class="choices">
        <Choice options={SPANS} chosen={span} onChosen={setSpan} />
        <Choice options={UNITS} chosen={unit} onChosen={setUnit} />
        <button type="button" class="key" onClick={() => setAsked(asked + 1)}>
          {say("pareto.refresh")}
        </button>
      </div>
      {shown === undefined ? (
        <p role="status">{say("pareto.working")}</p>
      ) : (
        <Findings
          shown={shown}
          span={span}
          unit={unit}
          heardAt={tablet.sync.value.heardAt}
          definitions={definitions}
        />
      )}
    </main>
  );
}

/** The server's answer; without contact the tablet's own tally. Neither is kept longer than the question. */
function useView(tablet: Tablet, span: SpanName, asked: number): Shown | undefined {
  const [shown, setShown] = useState<Shown>();
  useEffect(() => {
    let isCurrent = true;
    setShown(undefined);
    const records = tablet.records.value;
    const now = Date.now();
    const shifts = [...shiftDefinitions(records).values()].at(-1);
    const wanted = spanOf(span, now, shifts);
    const query = span === "shift" ? "" : `?from=${wanted.from}&to=${wanted.to}`;
    void tablet.read(`/api/v1/pareto${query}`).then((answer) => {
      const view =
        (answer.ok ? fromServer(answer.value) : undefined) ??
        fromTablet(records, partDefinitions(records, tablet.files.peek()), wanted, tablet.authors.peek());
      const isForOthers = !answer.ok && answer.code === "role-needed";
      if (isCurrent) setShown({ view, at: now, zone: shifts?.time_zone, isForOthers });
    });
    return () => {
      isCurrent = false;
    };
  }, [tablet, span, asked]);
  return shown;
}

interface FindingsProps {
  readonly shown: Shown;
  readonly span: SpanName;
  readonly unit: Unit;
  readonly heardAt: number | undefined;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
}

function Findings({ shown, span, unit, heardAt, definitions }: FindingsProps) {
  const { view } = shown;
  const bars = (unit === "marks" ? view.bars : byPieces(view.bars)).map((bar) => ({
    ...bar,
    label: labelOf(definitions, bar.name),
    value: unit === "marks" ? bar.count : bar.pieces,
  }));
  return (
    <>
      <p class="n">
        <strong>{say("pareto.n", { marks: view.marks, pieces: view.pieces })}</strong>
        <span>{periodOf(shown, span)}</span>
      </p>
      <p class={`source is-${view.source}`}>{sourceOf(shown, heardAt)}</p>
      {bars.length === 0 ? (
        <p class="empty">{say("pareto.none")}</p>
      ) : (
        <>
          <ParetoChart bars={bars} />
          <TableTwin bars={bars} />
        </>
      )}
    </>
  );
}

function periodOf({ view, zone }: Shown, span: SpanName): string {
  if (span === "all") return say("pareto.period_all");
  const values = { from: moment(view.span.from, zone), to: moment(view.span.to, zone) };
  if (view.span.shift === "") return say("pareto.period", values);
  return say("pareto.period_shift", { ...values, shift: view.span.shift });
}

function sourceOf({ view, at, isForOthers }: Shown, heardAt: number | undefined): string {
  if (isForOthers) return say("pareto.for_roles");
  if (view.source === "server") return say("pareto.from_server", { when: clock(at) });
  if (heardAt === undefined) return say("pareto.from_tablet_never");
  return say("pareto.from_tablet", { age: age(at - heardAt) });
}

function TableTwin({ bars }: { readonly bars: readonly ChartBar[] }) {
  return (
    <table class="twin">
      <thead>
        <tr>
          <th scope="col">{say("pareto.col_defect")}</th>
          <th scope="col">{say("pareto.col_marks")}</th>
          <th scope="col">{say("pareto.col_pieces")}</th>
          <th scope="col">{say("pareto.col_share")}</th>
          <th scope="col">{say("pareto.col_cumulative")}</th>
        </tr>
      </thead>
      <tbody>
        {bars.map((bar) => (
          <tr key={bar.name}>
            <th scope="row">{bar.label}</th>
            <td data-column={say("pareto.col_marks")}>{number(bar.count)}</td>
            <td data-column={say("pareto.col_pieces")}>{number(bar.pieces)}</td>
            <td data-column={say("pareto.col_share")}>{percent(bar.share)}</td>
            <td data-column={say("pareto.col_cumulative")}>{percent(bar.cumulative)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

interface ChoiceProps<Name extends string> {
  readonly options: readonly (readonly [Name, Key])[];
  readonly chosen: Name;
  readonly onChosen: (name: Name) => void;
}

function Choice<Name extends string>({ options, chosen, onChosen }: ChoiceProps<Name>) {
  return (
    <div class="choice-row">
      {options.map(([name, key]) => (
        <button
          key={name}
          type="button"
          class="key"
          aria-pressed={name === chosen}
          onClick={() => onChosen(name)}
        >
          {say(key)}
        </button>
      ))}
    </div>
  );
}

/** The word of the newest list that has it. */
function labelOf(definitions: ReadonlyMap<string, PartDefinition>, defect: string): string {
  if (defect === NOT_SURE) return say("tally.not_sure");
  const lists = [...definitions.values()].reverse();
  const word = lists.flatMap((list) => list.defects).find((entry) => entry.defect === defect);
  return word === undefined ? defect : inOneLine(inWords(word.key));
}
