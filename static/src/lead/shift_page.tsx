// SPDX-License-Identifier: Apache-2.0
// The end of a shift: what cannot wait stands first, each line a key to where it is decided, and then the Pareto.
import type { ComponentChildren } from "preact";
import type { Person } from "../definitions/people.js";
import type { PartDefinition } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { ClassMark } from "../widgets/class_mark.js";
import { useState } from "preact/hooks";
import { AnswerOf, useRequest, type Asking } from "../widgets/asked.js";
import { lookName } from "../words/looks.js";
import { age, moment, number } from "../words/measures.js";
import { sayPoint } from "../words/points.js";
import { say, type Key } from "../words/say.js";
import "./batch.css";
import { batchListFrom } from "./batch_list.js";
import { HowOld, useDated, type Dated } from "./dated_report.js";
import { HeldBatchPart } from "./held_batch.js";
import { causeOf, placeOf } from "./hold_words.js";
import "./holds.css";
import { holdsFrom, type HoldLine, type HoldsList, type QueryLine } from "./holds_list.js";
import { CHECKS_ASKED_MS, machineChecksFrom, type MachineChecks } from "./machine_checks.js";
import { ParetoPart } from "./pareto_part.js";
import { QueriesPart } from "./queries_part.js";
import "./shift.css";
import { shiftFrom, sortedBatches, sortedHolds, type NotHeard, type OpenDifference } from "./shift_lines.js";
import { saidOf, StandingMark } from "./standing_mark.js";

export interface ShiftPageProps {
  readonly tablet: Tablet;
  readonly person: Person;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
  readonly onBatch: (batch: string) => void;
  /** To the checks at the machines. */
  readonly onChecks: () => void;
}

export function ShiftPage(props: ShiftPageProps) {
  const { tablet, definitions, onBatch, onChecks } = props;
  const held = useDated(tablet, "/holds", holdsFrom);
  const lines = useDated(tablet, "/shift", shiftFrom);
  const pages = useDated(tablet, "/batch-pages", batchListFrom);
  const checks = useDated(tablet, "/machine-checks", machineChecksFrom, "", CHECKS_ASKED_MS);
  const holds = sortedHolds(held.value?.holds ?? []);
  const batches = sortedBatches(pages.value?.pages ?? []);
  const [opened, setOpened] = useState("");
  const asking = useRequest(tablet);
  const heldBatches = new Map(held.value?.batches.map((one) => [one.batch, one]));
  const hold = (line: HoldLine) => (
    <HoldKey
      key={line.hold}
      line={line}
      number={heldBatches.get(line.batch)?.number ?? ""}
      definitions={definitions}
      isOpened={opened === line.hold}
      onTap={() => setOpened(opened === line.hold ? "" : line.hold)}
    >
      <Decide
        {...props}
        listed={held.value}
        hasContact={held.problem === undefined}
        asking={asking}
        of={line.batch}
      />
    </HoldKey>
  );
  return (
    <main class="choice shift-page">
      <h1>
        {lines.value === undefined ? say("nav.shift") : say("shift.title", { shift: lines.value.shift })}
      </h1>
      <HowOld report={[lines, pages].reduce<Dated<unknown>>(worse, held)} />
      <Heading title="shift.criticals" isKnown={held.value !== undefined} lines={holds.critical.map(hold)} />
      <Heading title="shift.holds" isKnown={held.value !== undefined} lines={holds.other.map(hold)} />
      <Questions {...props} listed={held.value} hasContact={held.problem === undefined} />
      <Heading
        title="shift.differences"
        isKnown={lines.value !== undefined}
        lines={(lines.value?.differences ?? []).map((line) => (
          <DifferenceKey
            key={`${line.batch} ${line.look} ${line.kind} ${line.subject}`}
            line={line}
            onBatch={onBatch}
          />
        ))}
      />
      <Heading
        title="machine_checks.title"
        isKnown={checks.value !== undefined}
        lines={
          checks.value === undefined ? [] : [<ChecksKey key="checks" found={checks.value} onTap={onChecks} />]
        }
        count={checks.value?.taken}
      />
      <Heading
        title="shift.not_heard"
        isKnown={lines.value !== undefined}
        note="shift.not_heard_what"
        lines={(lines.value?.not_heard ?? []).map((line) => (
          <SilentLine key={line.device} line={line} asOf={lines.value?.as_of ?? 0} />
        ))}
      />
      <Heading
        title="shift.wrong_pins"
        isKnown={lines.value !== undefined}
        note="shift.wrong_pins_what"
        lines={(lines.value?.wrong_pins ?? []).map((line) => (
          <li key={`${line.person} ${line.device}`} class="silent">
            <strong>{line.letters}</strong>
            <span>{line.name}</span>
            <span>{line.person}</span>
          </li>
        ))}
      />
      <Heading
        title="shift.waiting"
        isKnown={pages.value !== undefined}
        lines={batches.waiting.map(({ page, standing }) => (
          <LineKey key={page.batch} onTap={() => onBatch(page.batch)}>
            <StandingMark standing={standing} />
            <strong>{page.number}</strong>
            <span>{saidOf(standing)}</span>
          </LineKey>
        ))}
      />
      <Heading
        title="shift.late"
        isKnown={held.value !== undefined && pages.value !== undefined}
        lines={[
          ...holds.late.map(hold),
          ...batches.late.map((page) => (
            <LineKey key={page.batch} onTap={() => onBatch(page.batch)}>
              <StandingMark standing="came_late" />
              <strong>{page.number}</strong>
              <span>{say("shift.late_records", { count: page.late })}</span>
            </LineKey>
          )),
        ]}
      />
      <section class="held-batch">
        <h2>{say("pareto.title")}</h2>
        <ParetoPart tablet={tablet} />
      </section>
    </main>
  );
}

/** Of two reports the one that speaks for both: one that failed, else one that is still asked for, else the older. */
function worse(one: Dated<unknown>, other: Dated<unknown>): Dated<unknown> {
  const rank = ({ value, problem }: Dated<unknown>): number =>
    (problem === undefined ? 2 : 0) + (value === undefined ? 0 : 1);
  return (rank(one) - rank(other) || one.heardAt - other.heardAt) <= 0 ? one : other;
}

interface HeadingProps {
  readonly title: Key;
  readonly isKnown: boolean;
  readonly lines: readonly ComponentChildren[];
  readonly note?: Key;
  /** How many stand beside the heading, where it is not how many lines there are. */
  readonly count?: number | undefined;
}

/** A heading with how many lines it has: that there is none is said, and is another thing than not knowing. */
function Heading({ title, isKnown, lines, note, count = lines.length }: HeadingProps) {
  return (
    <section class={`shift-lines${lines.length === 0 ? " is-empty" : ""}`}>
      <h2>
        {say(title as "shift.holds")}
        <span class="how-many">{isKnown ? number(count) : say("shift.not_known")}</span>
      </h2>
      {lines.length > 0 && note !== undefined && <p>{say(note as "shift.not_heard_what")}</p>}
      {lines.length > 0 && <ul>{lines}</ul>}
    </section>
  );
}

interface LineKeyProps {
  readonly onTap: () => void;
  readonly children: ComponentChildren;
}

function LineKey({ onTap, children }: LineKeyProps) {
  return (
    <li>
      <button type="button" class="key shift-line" onClick={onTap}>
        {children}
      </button>
    </li>
  );
}

interface HoldKeyProps extends Pick<ShiftPageProps, "definitions"> {
  readonly line: HoldLine;
  readonly number: string;
  readonly isOpened: boolean;
  readonly onTap: () => void;
  /** What is decided behind the key. */
  readonly children: ComponentChildren;
}

/** A hold; a tap opens what stands in its batch's way below it, and another closes that again. */
function HoldKey({ line, number: label, definitions, isOpened, onTap, children }: HoldKeyProps) {
  const isCritical = line.cause === "critical";
  return (
    <li>
      <button
        type="button"
        class={`key shift-line${isCritical ? " is-critical" : ""}`}
        aria-expanded={isOpened}
        onClick={onTap}
      >
        {isCritical ? <ClassMark shape="critical" /> : <StandingMark standing="held" />}
        <strong>{label}</strong>
        <span>{causeOf(line, definitions)}</span>
        <small>{[placeOf(line), moment(line.at)].filter((part) => part !== "").join(", ")}</small>
      </button>
      {isOpened && children}
    </li>
  );
}

interface DecideProps extends QuestionsProps {
  readonly asking: Asking;
  readonly of: string;
}

/** What stands in the way of the batch somebody tapped, decided where the line stands. */
function Decide({ listed, of, ...props }: DecideProps) {
  const batch = listed?.batches.find((one) => one.batch === of);
  if (listed === undefined || batch === undefined) return null;
  return (
    <>
      <AnswerOf tablet={props.tablet} asked={props.asking.asked} />
      <p class="caution">{say("holds.caution")}</p>
      <HeldBatchPart {...props} listed={listed} batch={batch} />
    </>
  );
}

interface ChecksKeyProps {
  readonly found: MachineChecks;
  readonly onTap: () => void;
}

/** The checks of the shift in numbers; behind the key stands each of them. */
function ChecksKey({ found: { out, gaps, worth_a_look }, onTap }: ChecksKeyProps) {
  return (
    <LineKey onTap={onTap}>
      <StandingMark standing={out.length + gaps.length === 0 ? "ready" : "points_open"} />
      <strong>{number(out.length)}</strong>
      <span>
        {say("shift.machine_checks_lines", {
          out: out.length,
          gaps: gaps.length,
          worth: worth_a_look.length,
        })}
      </span>
    </LineKey>
  );
}

interface DifferenceKeyProps {
  readonly line: OpenDifference;
  readonly onBatch: (batch: string) => void;
}

function DifferenceKey({ line, onBatch }: DifferenceKeyProps) {
  const names = { tray: () => String(line.tray), person: () => "?", tag: () => "?" };
  return (
    <LineKey onTap={() => onBatch(line.batch)}>
      <StandingMark standing="points_open" />
      <strong>{line.number}</strong>
      <span>{sayPoint(line, names)}</span>
      {line.look !== "" && <small>{lookName(line.look)}</small>}
    </LineKey>
  );
}

/** Nothing is decided here: somebody goes and looks for it. */
function SilentLine({ line, asOf }: { readonly line: NotHeard; readonly asOf: number }) {
  return (
    <li class="silent">
      <strong>{line.letters}</strong>
      <span>{line.name}</span>
      <span>{say("shift.silent_for", { age: age(asOf - line.heard_at) })}</span>
    </li>
  );
}

interface QuestionsProps extends ShiftPageProps {
  readonly listed: HoldsList | undefined;
  readonly hasContact: boolean;
}

/** Pieces nobody was sure of, batch by batch, settled here with one tap each. */
function Questions({ tablet, person, listed, hasContact }: QuestionsProps) {
  const asking = useRequest(tablet);
  const queries = listed?.queries ?? [];
  const of = (batch: string): readonly QueryLine[] => queries.filter((one) => one.batch === batch);
  const batches = (listed?.batches ?? []).filter(({ batch }) => of(batch).length > 0);
  return (
    <section class={`shift-lines${queries.length === 0 ? " is-empty" : ""}`}>
      <h2>
        {say("holds.queries")}
        <span class="how-many">{listed === undefined ? say("shift.not_known") : number(queries.length)}</span>
      </h2>
      <AnswerOf tablet={tablet} asked={asking.asked} />
      {batches.map(({ batch, number: label, seen }) => (
        <div key={batch}>
          <h3>{say("holds.batch", { number: label })}</h3>
          <QueriesPart
            queries={of(batch)}
            seen={seen}
            mayAsk={hasContact && person.roles.includes("lead")}
            asking={asking}
          />
        </div>
      ))}
    </section>
  );
}
