// SPDX-License-Identifier: Apache-2.0
// All batches for the lead, one line each: what waits for a decision stands first.
import type { Tablet } from "../sync/contract.js";
import { lookName } from "../words/looks.js";
import { moment } from "../words/measures.js";
import { say } from "../words/say.js";
import "./batch.css";
import {
  batchListFrom,
  inReadingOrder,
  presentLook,
  type BatchPageLine,
  type Standing,
  type StandingLine,
} from "./batch_list.js";
import { HowOld, useDated } from "./dated_report.js";
import { holdsFrom } from "./holds_list.js";
import { saidOf, StandingMark } from "./standing_mark.js";

export interface BatchListPageProps {
  readonly tablet: Tablet;
  readonly onChosen: (batch: string) => void;
  /** To what came in, and where it went. */
  readonly onReceipts: () => void;
  readonly onGauges: () => void;
}

export function BatchListPage({ tablet, onChosen, onReceipts, onGauges }: BatchListPageProps) {
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
      <button type="button" class="key" onClick={onReceipts}>
        {say("receipts.title")}
      </button>
      <button type="button" class="key" onClick={onGauges}>
        {say("gauges.title")}
      </button>
    </main>
  );
}

interface LineProps {
  readonly line: StandingLine;
  readonly onChosen: (batch: string) => void;
}

function Line({ line: { page, standing }, onChosen }: LineProps) {
  return (
    <button type="button" class={`key batch-line is-${standing}`} onClick={() => onChosen(page.batch)}>
      <StandingMark standing={standing} />
      <strong>{page.number}</strong>
      <span class="standing">{saidOf(standing)}</span>
      <small>{aboutOf(page, standing)}</small>
    </button>
  );
}

function aboutOf(page: BatchPageLine, standing: Standing): string {
  const present = presentLook(page);
  if (present === undefined) return say("batches.opened", { when: moment(page.opened_at) });
  const { look, looked, due, points } = present;
  if (standing === "not_begun") return say("decide.not_counted", { look: lookName(look) });
  return say("decide.present", { look: lookName(look), looked, due, points });
}
