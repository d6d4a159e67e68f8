// SPDX-License-Identifier: Apache-2.0
// Everything a lead has to know of one batch before deciding, and the three acts.
import type { Person } from "../definitions/people.js";
import type { PieceVerdict } from "../folds/verdicts.js";
import type { PartDefinition, ReadRecord } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { stateWord } from "../words/goods.js";
import { lookName } from "../words/looks.js";
import { moment } from "../words/measures.js";
import type { Names } from "../words/differences.js";
import { sayPoint } from "../words/points.js";
import { say, type Key } from "../words/say.js";
import "./batch.css";
import { batchFrom, type BatchAnswer } from "./batch_answer.js";
import { CoveragePart } from "./coverage_part.js";
import { HowOld, useDated } from "./dated_report.js";
import { AskRelease, PlaceHold, type Desk } from "./decisions.js";
import { causeOf, defectName, placeOf } from "./hold_words.js";
import "./holds.css";
import { holdsFrom, type HoldLine } from "./holds_list.js";
import { LedgerPart } from "./ledger_part.js";
import { Accepted, LookPart, namesUnder, Points } from "./look_part.js";
import { openPoints } from "./open_points.js";
import { RequestsPart, type AskedLine } from "./requests_part.js";

export interface BatchPageProps {
  readonly tablet: Tablet;
  readonly batch: string;
  readonly person: Person;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
  readonly onHolds: () => void;
}

export function BatchPage({ tablet, batch, person, definitions, onHolds }: BatchPageProps) {
  const report = useDated(tablet, `/batch-pages/${encodeURIComponent(batch)}`, batchFrom);
  const held = useDated(tablet, "/holds", holdsFrom).value?.holds ?? [];
  const answer = report.value;
  const hasContact = report.problem === undefined;
  return (
    <main class="choice holds">
      <h1>{answer === undefined ? say("page.title") : say("holds.batch", { number: answer.number })}</h1>
      <HowOld report={report} />
      {answer !== undefined && (
        <Parts
          answer={answer}
          desk={{ tablet, batch, person, seen: answer.seen, hasContact }}
          held={held.filter((line) => line.batch === batch)}
          definitions={definitions}
          onHolds={onHolds}
        />
      )}
    </main>
  );
}

interface PartsProps {
  readonly answer: BatchAnswer;
  readonly desk: Desk;
  readonly held: readonly HoldLine[];
  readonly definitions: ReadonlyMap<string, PartDefinition>;
  readonly onHolds: () => void;
}

function Parts({ answer, desk, held, definitions, onHolds }: PartsProps) {
  const names: Names = {
    tray: (id) => String(answer.trays[id]?.number ?? "?"),
    person: (id) => answer.names[id] ?? "?",
    tag: (id) => answer.tags[id] ?? "?",
  };
  const { ofBatch, ofLooks } = openPoints(answer);
  const { ledger, requests } = answer;
  const ofBatchAccepted = ledger.differences.filter((line) => line.look === "" && line.accepted_by !== "");
  return (
    <>
      <p>{answer.part}</p>
      <p>
        {ledger.taken === 0
          ? say("page.opened", { pieces: ledger.opened, when: moment(answer.opened_at) })
          : say("page.opened_split", {
              pieces: ledger.opened,
              when: moment(answer.opened_at),
              taken: ledger.taken,
              left: ledger.left,
            })}
      </p>
      {answer.casts.length > 0 && (
        <section>
          <h2>{say("page.casts")}</h2>
          {answer.casts.map(({ receipt, cast, name, state, bars }) => (
            <p key={receipt}>
              <strong>{cast}</strong> {name}, {say("goods.bars", { count: bars })}:{" "}
              {say(stateWord(state) ?? "goods.waits")}
            </p>
          ))}
        </section>
      )}
      <Released answer={answer} />
      {desk.person.roles.includes("lead") && <PlaceHold desk={desk} />}
      {held.length > 0 && (
        <section class="held-batch">
          <h2>{say("page.holds")}</h2>
          <ul class="hold-list">
            {held.map((line) => (
              <li key={line.hold} class={line.cause === "critical" ? "is-critical" : ""}>
                <strong>{causeOf(line, definitions)}</strong>
                {placeOf(line) !== "" && <span>{placeOf(line)}</span>}
                <span>{moment(line.at)}</span>
              </li>
            ))}
          </ul>
          <button type="button" class="key" onClick={onHolds}>
            {say("page.to_holds")}
          </button>
        </section>
      )}
      <Points points={ofBatch} names={names} desk={desk} />
      <Accepted lines={ofBatchAccepted} answer={answer} names={names} />
      <LedgerPart ledger={ledger.whole} definition={definitions.get(answer.definition)} />
      {answer.looks.map((look) => (
        <LookPart
          key={look.look}
          answer={answer}
          look={look}
          points={ofLooks.get(look.look) ?? []}
          names={names}
          desk={desk}
        />
      ))}
      <Pieces verdicts={answer.verdicts} names={names} definitions={definitions} />
      <CoveragePart coverage={answer.coverage} definition={definitions.get(answer.definition)} />
      {requests.length > 0 && (
        <section class="held-batch">
          <RequestsPart
            tablet={desk.tablet}
            batch={desk.batch}
            requests={requests.map((one) => askedLine(one, answer, desk.tablet.records.value, names))}
            person={desk.person}
            hasContact={desk.hasContact}
          />
        </section>
      )}
      {(answer.released_by === "" || answer.late.length > 0) && (
        <AskRelease desk={desk} canBe={answer.can_be_released} />
      )}
    </>
  );
}

function Released({ answer }: { readonly answer: BatchAnswer }) {
  const { released_by, late, not_understood, requests } = answer;
  const asked = requests.find(({ id }) => id === released_by);
  return (
    <>
      {asked !== undefined && (
        <p class="done">
          {say("page.released", { names: namesUnder(released_by, answer), when: moment(asked.asked_at) })}
        </p>
      )}
      {late.length > 0 && (
        <p class="problem" role="alert">
          {say("page.late", { count: late.length })}
        </p>
      )}
      {not_understood.length > 0 && (
        <p class="problem" role="alert">
          {say("page.not_understood", { count: not_understood.length })}
        </p>
      )}
    </>
  );
}

const VERDICTS = {
  accept: "holds.accept",
  rework: "holds.rework",
  query: "page.query",
  reject: "holds.reject",
  locked: "page.locked",
} as const satisfies Readonly<Record<PieceVerdict["verdict"], Key>>;

interface PiecesProps {
  readonly verdicts: readonly PieceVerdict[];
  readonly names: Names;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
}

/** Pieces that wait, and pieces two people judged differently. */
function Pieces({ verdicts, names, definitions }: PiecesProps) {
  if (verdicts.length === 0) return null;
  return (
    <section class="held-batch">
      <h2>{say("page.pieces")}</h2>
      <ul class="hold-list">
        {verdicts.map((one) => (
          <li key={`${one.look} ${one.piece}`}>
            <strong>{names.tag(one.piece)}</strong>
            <span>{lookName(one.look)}</span>
            {one.tray !== "" && <span>{say("page.in_tray", { number: names.tray(one.tray) })}</span>}
            {one.main_defect !== "" && <span>{markName(one.main_defect, definitions)}</span>}
            <strong>{say(VERDICTS[one.verdict])}</strong>
            {one.differ.length > 0 && <span>{say("page.differ")}</span>}
          </li>
        ))}
      </ul>
    </section>
  );
}

function markName(defect: string, definitions: ReadonlyMap<string, PartDefinition>): string {
  return defect === "not_sure" ? say("tally.not_sure") : defectName(defect, definitions);
}

/** A request as its line: what it names stands in the record itself, where this tablet has it. */
function askedLine(
  one: BatchAnswer["requests"][number],
  answer: BatchAnswer,
  records: readonly ReadRecord[],
  names: Names,
): AskedLine {
  const { id: request, kind, state, reasons, asked_at } = one;
  const known = records.find(({ id }) => id === request)?.known;
  const about =
    known?.kind === "difference_acceptance_requested"
      ? `${sayPoint({ ...known.body, kind: known.body.difference }, names)} ${known.body.why}`
      : known?.kind === "release_requested"
        ? (known.body.why ?? "")
        : "";
  return {
    request,
    kind,
    state,
    reasons,
    asked_at,
    about,
    asker: one.person,
    names: [one.person, ...one.seconded_by].map((person) => answer.names[person] ?? "?"),
  };
}
