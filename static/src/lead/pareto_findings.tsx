// SPDX-License-Identifier: Apache-2.0
// One answer of the Pareto: n and period, whose answer it is and how old, the bars, and the same as a table.
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { ShiftDefinition } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { age, moment, number, percent } from "../words/measures.js";
import { say } from "../words/say.js";
import { barWords, STRATUM_WORDS, type Definitions } from "./bar_words.js";
import { HowOld, useDated, type Dated } from "./dated_report.js";
import { ParetoChart, type ChartBar } from "./pareto_chart.js";
import { addressOf, type Only, type Question } from "./pareto_question.js";
import { byPieces, fromServer, fromTablet, type ParetoView } from "./pareto_view.js";
import type { Span } from "./spans.js";

/** A Pareto costs the server more than a list: it is asked for again once a minute, and at its key. */
const EVERY_MS = 60_000;
const CHART_PADDING_PX = 32;
/** Below these widths each bar of the table is a block of its own, and every number says what it is. */
const STACKED_PX = 620;
const STACKED_OF_TRAYS_PX = 960;

export interface ParetoFindingsProps {
  readonly tablet: Tablet;
  readonly question: Question;
  readonly span: Span;
  readonly shifts: ShiftDefinition | undefined;
  readonly definitions: Definitions;
  readonly turn: number;
  readonly onBar: (bar: Omit<Only, "stratum">) => void;
}

/** The server's answer, dated where it is an old one; without any the tablet's own tally, which says so. */
export function ParetoFindings(props: ParetoFindingsProps) {
  const { tablet, question, span, turn } = props;
  const report = useDated(tablet, addressOf(question, span), fromServer, String(turn), EVERY_MS);
  if (report.value !== undefined) {
    return (
      <>
        <Head view={report.value} {...props} />
        <HowOld report={report} />
        <Bars view={report.value} {...props} />
      </>
    );
  }
  if (report.problem === undefined) return <HowOld report={report} />;
  return <OwnFindings {...props} report={report} />;
}

/** Folded once for the records that stand: what is said of the contact changes more often than they do. */
function OwnFindings({ report, ...props }: ParetoFindingsProps & { readonly report: Dated<ParetoView> }) {
  const { tablet, question, span, definitions } = props;
  const [records, authors] = [tablet.records.value, tablet.authors.value];
  const own = useMemo(
    () => fromTablet(records, definitions, span, authors),
    [records, definitions, span, authors],
  );
  const view = question.unit === "marks" ? own : { ...own, bars: byPieces(own.bars) };
  return (
    <>
      <Head view={view} {...props} />
      <p class="source is-tablet">{whyOwn(tablet, report)}</p>
      <Bars view={view} {...props} />
    </>
  );
}

function whyOwn(tablet: Tablet, { problem }: Dated<ParetoView>): string {
  if (problem === "role-needed") return say("pareto.for_roles");
  const heardAt = tablet.sync.value.heardAt;
  if (heardAt === undefined) return say("pareto.from_tablet_never");
  return say("pareto.from_tablet", { age: age(Date.now() - heardAt) });
}

interface ViewProps extends ParetoFindingsProps {
  readonly view: ParetoView;
}

function Head({ view, question, shifts }: ViewProps) {
  return (
    <p class="n">
      <strong>{say("pareto.n", { marks: view.marks, pieces: view.pieces })}</strong>
      <span>{periodOf(view, question.span, shifts?.time_zone)}</span>
      <span>
        {say(question.axis === "made" && view.source === "server" ? "pareto.made_on" : "pareto.found_on")}
      </span>
      {view.looked > 0 && <span>{say("pareto.looked", { pieces: view.looked })}</span>}
      {view.perhaps > 0 && <span>{say("pareto.perhaps", { marks: view.perhaps })}</span>}
      {view.unplaced > 0 && <span>{say("pareto.unplaced", { marks: view.unplaced })}</span>}
    </p>
  );
}

/** The site's zone: a shift begins by the clock on the works' wall, wherever the tablet is. */
function periodOf({ span }: ParetoView, name: Question["span"], zone: string | undefined): string {
  if (name === "all") return say("pareto.period_all");
  const values = { from: moment(span.from, zone), to: moment(span.to, zone) };
  return span.shift === ""
    ? say("pareto.period", values)
    : say("pareto.period_shift", { ...values, shift: span.shift });
}

function Bars({ view, question, definitions, onBar }: ViewProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  // The tablet's own tally is by defect, whatever was asked for.
  const stratum = view.source === "server" ? question.by : "defect";
  const bars = view.bars.map((bar): ChartBar => {
    const words = barWords({ stratum, ...bar }, definitions);
    return { ...bar, words, value: question.unit === "marks" ? bar.count : bar.pieces };
  });
  const narrow = (bar: ChartBar): void => onBar({ sort: bar.sort, name: bar.name, label: bar.label });
  const onTap = view.source === "server" ? narrow : undefined;
  return (
    <div class="bars" ref={box}>
      {bars.length === 0 ? (
        <p class="empty">{say("pareto.none")}</p>
      ) : (
        <>
          <ParetoChart width={Math.max(0, width - CHART_PADDING_PX)} bars={bars} onBar={onTap} />
          <TableTwin width={width} bars={bars} title={say(STRATUM_WORDS[stratum])} onBar={onTap} />
        </>
      )}
    </div>
  );
}

interface TableTwinProps {
  readonly width: number;
  readonly bars: readonly ChartBar[];
  readonly title: string;
  readonly onBar: ((bar: ChartBar) => void) | undefined;
}

function TableTwin({ width, bars, title, onBar }: TableTwinProps) {
  const isOfTrays = bars.some((bar) => bar.looked > 0);
  const isAnyClose = bars.some((bar) => bar.too_few_to_rank);
  const isStacked = width < (isOfTrays ? STACKED_OF_TRAYS_PX : STACKED_PX);
  return (
    <table class={`twin${isStacked ? " is-stacked" : ""}`}>
      <thead>
        <tr>
          <th scope="col">{title}</th>
          <th scope="col">{say("pareto.col_marks")}</th>
          <th scope="col">{say("pareto.col_pieces")}</th>
          <th scope="col">{say("pareto.col_share")}</th>
          <th scope="col">{say("pareto.col_cumulative")}</th>
          {isOfTrays && <th scope="col">{say("pareto.col_looked")}</th>}
          {isOfTrays && <th scope="col">{say("pareto.col_of_thousand")}</th>}
          {isAnyClose && (
            <th scope="col" class="order">
              {say("pareto.col_order")}
            </th>
          )}
        </tr>
      </thead>
      <tbody>
        {bars.map((bar) => (
          <tr key={`${bar.sort} ${bar.name}`}>
            <th scope="row">
              {onBar === undefined ? (
                bar.words
              ) : (
                <button type="button" class="key" onClick={() => onBar(bar)}>
                  {bar.words}
                </button>
              )}
            </th>
            <td data-column={say("pareto.col_marks")}>{number(bar.count)}</td>
            <td data-column={say("pareto.col_pieces")}>{number(bar.pieces)}</td>
            <td data-column={say("pareto.col_share")}>{percent(bar.share)}</td>
            <td data-column={say("pareto.col_cumulative")}>{percent(bar.cumulative)}</td>
            {isOfTrays && <td data-column={say("pareto.col_looked")}>{number(bar.looked)}</td>}
            {isOfTrays && <td data-column={say("pareto.col_of_thousand")}>{ofThousand(bar)}</td>}
            {isAnyClose && (
              <td class="order" data-column={say("pareto.col_order")}>
                {bar.too_few_to_rank ? say("pareto.too_few") : ""}
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** What a bar is as long as, of a thousand pieces looked at. */
function ofThousand({ value, looked }: ChartBar): string {
  return looked === 0 ? "" : number(Math.round((1000 * value) / looked));
}

function useWidth(box: { readonly current: HTMLElement | null }): number {
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const element = box.current;
    if (element === null) return undefined;
    const observer = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)));
    observer.observe(element);
    return () => observer.disconnect();
  }, [box]);
  return width;
}
