// SPDX-License-Identifier: Apache-2.0
// The checks at the machines for the lead: what was out, what is not as the plan asks, what was measured again, and
// what is worth a look. It names operations, batches, characteristics and gauges, and nobody.
import type { ComponentChildren } from "preact";
import { useMemo, useState } from "preact/hooks";
import { shiftDefinitions } from "../definitions/published.js";
import type { Tablet } from "../sync/contract.js";
import { DONE, REASONS, ROLE_WORDS, saidOf, storedWord } from "../words/checks.js";
import { age, asRead, clock, moment, number } from "../words/measures.js";
import { inWords, say, type Key } from "../words/say.js";
import "./batch.css";
import { Choice, Days } from "./choices.js";
import { HowOld, useDated } from "./dated_report.js";
import {
  byPlace,
  CHECKS_ASKED_MS,
  machineChecksFrom,
  oneIn,
  type CheckSet,
  type Gap,
  type MachineChecks,
  type OfCheck,
  type Pattern,
  type Said,
} from "./machine_checks.js";
import "./machine_checks.css";
import { wantedSpan, type Question } from "./pareto_question.js";
import "./shift.css";

const SPANS = {
  shift: "pareto.span_shift",
  shift_before: "pareto.span_shift_before",
  day: "pareto.span_day",
  week: "pareto.span_week",
  days: "pareto.span_days",
} as const satisfies Readonly<Partial<Record<Question["span"], Key>>>;
type SpanWord = keyof typeof SPANS;

export interface MachineChecksPageProps {
  readonly tablet: Tablet;
  readonly onBatch: (batch: string) => void;
  readonly onShift: () => void;
}

export function MachineChecksPage({ tablet, onBatch, onShift }: MachineChecksPageProps) {
  const [span, setSpan] = useState<SpanWord>("shift");
  const [days, setDays] = useState<Question["days"]>(["", ""]);
  const shifts = [...shiftDefinitions(tablet.records.value).values()].at(-1);
  const wanted = useMemo(
    () => wantedSpan({ span, days }, Date.now(), shifts),
    [span, days, shifts?.time_zone],
  );
  return (
    <main class="choice shift-page machine-checks">
      <h1>{say("machine_checks.title")}</h1>
      <div class="choices">
        <Choice words={SPANS} chosen={span} onChosen={setSpan} />
        <button type="button" class="key" onClick={onShift}>
          {say("machine_checks.to_shift")}
        </button>
      </div>
      {span === "days" && <Days days={days} onDays={setDays} />}
      {wanted === undefined ? (
        <p class="empty">{say("pareto.no_days")}</p>
      ) : (
        <Findings
          key={`${wanted.from} ${wanted.to}`}
          tablet={tablet}
          path={span === "shift" ? "/machine-checks" : `/machine-checks?from=${wanted.from}&to=${wanted.to}`}
          zone={shifts?.time_zone}
          onBatch={onBatch}
        />
      )}
    </main>
  );
}

interface FindingsProps {
  readonly tablet: Tablet;
  readonly path: string;
  readonly zone: string | undefined;
  readonly onBatch: (batch: string) => void;
}

function Findings({ tablet, path, zone, onBatch }: FindingsProps) {
  const report = useDated(tablet, path, machineChecksFrom, "", CHECKS_ASKED_MS);
  const found = report.value;
  if (found === undefined) return <HowOld report={report} />;
  const period = { from: moment(found.from, zone), to: moment(found.to, zone) };
  return (
    <>
      <p class="n">
        <strong>{say("machine_checks.taken", { count: found.taken })}</strong>
        <span>
          {found.shift === ""
            ? say("pareto.period", period)
            : say("pareto.period_shift", { ...period, shift: found.shift })}
        </span>
      </p>
      <HowOld report={report} />
      <Sort title="machine_checks.out" lines={found.out} onBatch={onBatch}>
        {(line) => <SetLine key={line.check} line={line} isOut />}
      </Sort>
      <Sort title="machine_checks.gaps" lines={found.gaps} onBatch={onBatch}>
        {(line) => (
          <GapLine key={`${line.record} ${line.characteristic} ${line.role} ${line.kind}`} line={line} />
        )}
      </Sort>
      <Sort title="machine_checks.repeated" lines={found.repeated} onBatch={onBatch}>
        {(line) => <SetLine key={line.check} line={line} isOut={false} />}
      </Sort>
      <Sort
        title="machine_checks.worth"
        lines={found.worth_a_look}
        onBatch={onBatch}
        note={<WorthNote found={found} />}
      >
        {(line) => (
          <PatternLine key={`${line.kind} ${line.characteristic} ${line.cavity} ${line.since}`} line={line} />
        )}
      </Sort>
      {found.more > 0 && <p>{say("machine_checks.more", { count: found.more })}</p>}
    </>
  );
}

interface SortProps<Line extends OfCheck> {
  readonly title: Key;
  readonly lines: readonly Line[];
  readonly onBatch: (batch: string) => void;
  readonly note?: ComponentChildren;
  readonly children: (line: Line) => ComponentChildren;
}

/** A heading with how many, and below it the lines of each operation and batch. */
function Sort<Line extends OfCheck>({ title, lines, onBatch, note, children }: SortProps<Line>) {
  return (
    <section class={`shift-lines${lines.length === 0 ? " is-empty" : ""}`}>
      <h2>
        {say(title as "machine_checks.out")}
        <span class="how-many">{number(lines.length)}</span>
      </h2>
      {note}
      {byPlace(lines).map((group) => (
        <div key={`${group[0].operation} ${group[0].batch}`} class="check-place">
          <h3>
            <span>{operationOf(group[0])}</span>
            {group[0].batch !== "" && (
              <button type="button" class="key" onClick={() => onBatch(group[0].batch)}>
                {group[0].number}
              </button>
            )}
          </h3>
          <ul>{group.map(children)}</ul>
        </div>
      ))}
    </section>
  );
}

function operationOf({ operation, operation_words }: OfCheck): string {
  return `${operation} ${inWords(operation_words)}`.trim();
}

const KINDS = {
  missed: "machine_checks.missed",
  left_out: "machine_checks.left_out",
  delayed: "machine_checks.delayed",
  none: "machine_checks.none",
} as const satisfies Readonly<Record<string, Key>>;

function GapLine({ line }: { readonly line: Gap }) {
  return (
    <li class="check-line">
      <strong>
        {line.kind === "none" ? say("machine_checks.none") : nameOf(line)}
        {line.kind !== "none" && <small>{storedWord(ROLE_WORDS, line.role)}</small>}
      </strong>
      {line.kind !== "none" && <span>{gapOf(line)}</span>}
      <small>{moment(line.at)}</small>
    </li>
  );
}

function gapOf({ kind, why, checks, pieces, ms, said, unit }: Gap): string {
  const what = storedWord(KINDS, kind);
  if (kind === "missed") return `${what}: ${storedWord(REASONS, why)}`;
  if (kind === "left_out") return say("machine_checks.left_out_count", { count: checks });
  if (kind !== "delayed") return what;
  const behind = pieces > 0 ? say("machine_checks.behind_pieces", { count: pieces }) : age(ms);
  return say("machine_checks.delayed_by", { behind, said: saidOf(said, unit) });
}

function nameOf({ words, characteristic }: OfCheck): string {
  return inWords(words) || String(characteristic);
}

/** The first value and what stands beside it; of one that is out also what was done. */
function SetLine({ line, isOut }: { readonly line: CheckSet; readonly isOut: boolean }) {
  const limits = [line.lower, line.upper].map((limit) => (limit === "" ? "…" : asRead(limit)));
  return (
    <li class="check-line">
      <strong>
        {nameOf(line)}
        <small>{storedWord(ROLE_WORDS, line.role)}</small>
      </strong>
      <span class="side-by-side">
        <OneSaid line={line} one={line.first} title="machine_checks.first" />
        {line.beside.map((one) => (
          <OneSaid key={one.taken_at} line={line} one={one} title="machine_checks.beside" />
        ))}
        {`${line.lower}${line.upper}` !== "" && (
          <small>{say("machine_checks.limits", { lower: limits[0] ?? "", upper: limits[1] ?? "" })}</small>
        )}
      </span>
      {isOut && (
        <span>
          {line.done.length === 0
            ? say("machine_checks.not_answered")
            : line.done
                .map(({ done, pieces_back, at }) =>
                  say("machine_checks.done", {
                    done: storedWord(DONE, done),
                    count: pieces_back,
                    when: clock(at),
                  }),
                )
                .join(" ")}
        </span>
      )}
    </li>
  );
}

interface OneSaidProps {
  readonly line: CheckSet;
  readonly one: Said;
  readonly title: "machine_checks.first" | "machine_checks.beside";
}

function OneSaid({ line, one, title }: OneSaidProps) {
  return (
    <span class={`one-said${one.outcome === "out" ? " is-out" : ""}`}>
      <small>
        {say(title)}, {moment(one.taken_at)}
      </small>
      <b>{saidOf(one.said, line.unit)}</b>
      {one.outcome === "out" && <small>{say("check.is_out")}</small>}
      {one.mistyped && <small>{say("machine_checks.mistyped")}</small>}
      {one.gauge !== "" && <small>{say("gauge.is", { gauge: one.gauge })}</small>}
    </span>
  );
}

/** Each pattern as a fact, and what makes it without anybody's doing. */
const PATTERNS = {
  same_value: ["machine_checks.same_value", "machine_checks.same_value_why"],
  same_gap: ["machine_checks.same_gap", "machine_checks.same_gap_why"],
  close_together: ["machine_checks.close_together", "machine_checks.close_together_why"],
  end_digit: ["machine_checks.end_digit", "machine_checks.end_digit_why"],
  never_near: ["machine_checks.never_near", "machine_checks.never_near_why"],
} as const satisfies Readonly<Record<string, readonly [Key, Key]>>;

/** A chance below this is said as less than. */
const LEAST_CHANCE = 1e-6;

function PatternLine({ line }: { readonly line: Pattern }) {
  if (!Object.hasOwn(PATTERNS, line.kind)) return null;
  const [fact, why] = PATTERNS[line.kind as keyof typeof PATTERNS];
  const value = line.kind === "same_value" ? saidOf(line.value, line.unit) : line.value;
  const chance = number(oneIn(Math.max(line.chance, LEAST_CHANCE)));
  const where = [
    line.batch === "" ? line.part : "",
    line.cavity === "" ? "" : say("machine_checks.cavity", { cavity: line.cavity }),
    ...line.gauges.map((gauge) => say("gauge.is", { gauge })),
  ].filter((one) => one !== "");
  return (
    <li class="check-line">
      <strong>
        {nameOf(line)}
        {where.length > 0 && <small>{where.join(", ")}</small>}
      </strong>
      <span>
        {say(fact, { value, count: line.count, of: line.of })}{" "}
        {say(line.chance < LEAST_CHANCE ? "machine_checks.chance_least" : "machine_checks.chance", {
          chance,
        })}
      </span>
      <span class="soft">{say("machine_checks.can_be", { why: say(why) })}</span>
      <small>{say("pareto.period", { from: moment(line.since), to: moment(line.until) })}</small>
    </li>
  );
}

/** What a line here is and is not, and how many there would be by luck alone. */
function WorthNote({ found }: { readonly found: MachineChecks }) {
  return (
    <>
      <p class="caution">{say("machine_checks.worth_what")}</p>
      <p class="soft">
        {say("machine_checks.looked_at", { count: found.looked_at })}
        {found.too_few > 0 && ` ${say("machine_checks.too_few", { count: found.too_few })}`}
      </p>
    </>
  );
}
