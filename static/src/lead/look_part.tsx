// SPDX-License-Identifier: Apache-2.0
// One look on a batch's page: its pieces in numbers, what is open and what was accepted, its signature, whose eyes.
import type { Difference, LookCount, TrayCount } from "../folds/ledger.js";
import { lookName } from "../words/looks.js";
import { moment, number } from "../words/measures.js";
import type { Names } from "../words/differences.js";
import { sayPoint } from "../words/points.js";
import { say } from "../words/say.js";
import type { BatchAnswer, LookShown } from "./batch_answer.js";
import { AcceptPoint, type Desk } from "./decisions.js";
import { LimitPart } from "./limit_part.js";
import type { OpenPoint } from "./open_points.js";

export interface LookPartProps {
  readonly answer: BatchAnswer;
  readonly look: LookShown;
  readonly points: readonly OpenPoint[];
  readonly names: Names;
  readonly desk: Desk;
}

export function LookPart({ answer, look, points, names, desk }: LookPartProps) {
  const page = answer.ledger.looks.find((one) => one.look === look.look);
  const accepted = answer.ledger.differences.filter(
    (line) => line.look === look.look && line.accepted_by !== "",
  );
  return (
    <section class="held-batch">
      <h2>{lookName(look.look)}</h2>
      {page === undefined ? <p>{say("page.look_not_begun")}</p> : <Pieces page={page} />}
      {page !== undefined && <Trays page={page} answer={answer} />}
      <Points points={points} names={names} desk={desk} />
      <Accepted lines={accepted} answer={answer} names={names} />
      {look.signed_by !== "" && <p>{signedSentence(look, answer)}</p>}
      {look.independence.map((share) => (
        <p key={share.other}>
          {say("page.independence", {
            other: lookName(share.other),
            pieces: share.pieces,
            certain: share.certain,
            possible: share.possible,
            never: share.never,
          })}
        </p>
      ))}
      <LimitPart limits={answer.limits.filter((line) => line.look === look.look)} />
    </section>
  );
}

function Pieces({ page }: { readonly page: LookCount }) {
  const numbers: readonly (readonly [string, number])[] = [
    [say("page.counted"), page.counted],
    ...(page.taken === 0 ? [] : [[say("page.taken"), page.taken] as const]),
    [say("tray.due"), page.due],
    [say("tray.looked_at"), page.looked],
    [say("end.accepted"), page.accepted],
    [say("tally.rejects"), page.rejected],
    [say("page.rework"), page.rework],
    [say("tally.queries"), page.query],
    ...(page.sent + page.returned === 0
      ? []
      : [[say("page.sent"), page.sent] as const, [say("page.returned"), page.returned] as const]),
  ];
  return (
    <dl class="pieces">
      {numbers.map(([name, pieces]) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{number(pieces)}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Trays that are as their cards say are counted; each other one stands with its tablets and times. */
function Trays({ page, answer }: { readonly page: LookCount; readonly answer: BatchAnswer }) {
  const isPlain = ({ openings, looked, due }: TrayCount): boolean =>
    looked === due && openings.length === 1 && openings.every((opening) => opening.is_closed);
  const plain = page.trays.filter(isPlain).length;
  const begun = page.trays.filter((tray) => !isPlain(tray) && tray.openings.length > 0);
  return (
    <>
      {plain > 0 && <p>{say("page.trays_plain", { count: plain })}</p>}
      {begun.length > 0 && (
        <ul class="hold-list">
          {begun.map((tray) => (
            <li key={tray.number}>
              <strong>{say("tally.tray", { number: tray.number })}</strong>
              <span>{say("page.tray_due", { looked: tray.looked, due: tray.due })}</span>
              {tray.openings.map((opening) => (
                <span key={opening.tray}>
                  {say(opening.is_closed ? "page.opening_closed" : "page.opening_open", {
                    tablet: answer.trays[opening.tray]?.tablet ?? "?",
                    when: moment(opening.opened_at),
                    looked: opening.looked,
                  })}
                </span>
              ))}
            </li>
          ))}
        </ul>
      )}
    </>
  );
}

export interface PointsProps {
  readonly points: readonly OpenPoint[];
  readonly names: Names;
  readonly desk: Desk;
}

export function Points({ points, names, desk }: PointsProps) {
  if (points.length === 0) return null;
  return (
    <ul class="hold-list is-open">
      {points.map(({ point, acceptance }) => (
        <li key={`${point.kind} ${point.subject} ${point.amount}`}>
          <span class="about">{sayPoint(point, names)}</span>
          {acceptance !== undefined && <AcceptPoint desk={desk} point={point} look={acceptance} />}
        </li>
      ))}
    </ul>
  );
}

export interface AcceptedProps {
  readonly lines: readonly Difference[];
  readonly answer: BatchAnswer;
  readonly names: Names;
}

export function Accepted({ lines, answer, names }: AcceptedProps) {
  if (lines.length === 0) return null;
  return (
    <ul class="hold-list">
      {lines.map((line) => (
        <li key={`${line.kind} ${line.subject} ${line.amount}`}>
          <span class="about">{sayPoint(line, names)}</span>
          <strong>{say("page.accepted_by", { names: namesUnder(line.accepted_by, answer) })}</strong>
        </li>
      ))}
    </ul>
  );
}

/** Who asked, and who put a name under it. */
export function namesUnder(request: string, { requests, names }: BatchAnswer): string {
  const asked = requests.find(({ id }) => id === request);
  if (asked === undefined) return "?";
  return [asked.person, ...asked.seconded_by].map((person) => names[person] ?? "?").join(", ");
}

function signedSentence(look: LookShown, { names }: BatchAnswer): string {
  const name = names[look.signed_by];
  return name === undefined ? say("page.signed") : say("page.signed_by", { name });
}
