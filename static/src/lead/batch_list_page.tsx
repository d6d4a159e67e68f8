// SPDX-License-Identifier: Apache-2.0
// All batches for the lead, one line each: what waits for a decision stands first.
import type { Tablet } from "../sync/contract.js";
import { lookName } from "../words/looks.js";
import { moment } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import "./batch.css";
import {
  batchListFrom,
  inReadingOrder,
  presentLook,
  type Standing,
  type StandingLine,
} from "./batch_list.js";
import { HowOld, useDated } from "./dated_report.js";
import { holdsFrom } from "./holds_list.js";
import { StandingMark } from "./standing_mark.js";

export interface BatchListPageProps {
  readonly tablet: Tablet;
  readonly onChosen: (batch: string) => void;
}

export function BatchListPage({ tablet, onChosen }: BatchListPageProps) {
  const report = useDated(tablet, "/batch-pages", batchListFrom);
  const holds = useDated(tablet, "/holds", holdsFrom).value?.holds ?? [];
  const criticals = new Set(holds.filter(({ cause }) => cause === "critical").map(({ batch }) => batch));
  const pages = report.value?.pages;
  return (
    <main class="choice batch-lines">
      <h1>{say("decide.title")}</h1>
      <HowOld report={report} />
      {pages?.length === 0 && <p class="empty">{say("decide.none")}</p>}
      {pages !== undefined && (
        <ul>
          {inReadingOrder(pages, criticals).map((line) => (
            <li key={line.page.batch}>
              <Line line={line} onChosen={onChosen} />
            </li>
          ))}
        </ul>
      )}
    </main>
  );
}

interface LineProps {
  readonly line: StandingLine;
  readonly onChosen: (batch: string) => void;
}

function Line({ line: { page, standing }, onChosen }: LineProps) {
  const present = presentLook(page);
  return (
    <button type="button" class={`key batch-line is-${standing}`} onClick={() => onChosen(page.batch)}>
      <StandingMark standing={standing} />
      <strong>{page.number}</strong>
      <span class="standing">{saidOf(standing)}</span>
      <small>
        {present === undefined
          ? say("batches.opened", { when: moment(page.opened_at) })
          : say("decide.present", {
              look: lookName(present.look),
              looked: present.looked,
              due: present.due,
              points: present.points,
            })}
      </small>
    </button>
  );
}

const STANDING_WORDS = {
  critical: "decide.critical",
  held: "decide.held",
  over_limit: "decide.over_limit",
  came_late: "decide.came_late",
  points_open: "decide.points_open",
  not_signed: "decide.not_signed",
  ready: "decide.ready",
  in_work: "decide.in_work",
  released: "decide.released",
} as const satisfies Readonly<Record<Standing, Key>>;

function saidOf(standing: Standing): string {
  return say(STANDING_WORDS[standing]);
}
