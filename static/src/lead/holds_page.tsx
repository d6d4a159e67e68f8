// SPDX-License-Identifier: Apache-2.0
// What stands in a batch's way, batch by batch; below it what was decided lately.
import type { Person } from "../definitions/people.js";
import type { PartDefinition } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { AnswerOf, useRequest } from "../widgets/asked.js";
import { say } from "../words/say.js";
import { HowOld, useDated } from "./dated_report.js";
import { HeldBatchPart } from "./held_batch.js";
import { holdsFrom, inReadingOrder, type HeldBatch } from "./holds_list.js";

export interface HoldsPageProps {
  readonly tablet: Tablet;
  readonly person: Person;
  readonly definitions: ReadonlyMap<string, PartDefinition>;
  /** The batch somebody came for stands above the others. */
  readonly first?: string | undefined;
}

export function HoldsPage({ tablet, person, definitions, first }: HoldsPageProps) {
  const report = useDated(tablet, "/holds", holdsFrom);
  const listed = report.value;
  const order = listed && inReadingOrder(listed, first);
  const asking = useRequest(tablet);
  const part = (batch: HeldBatch) =>
    listed && (
      <HeldBatchPart
        key={batch.batch}
        tablet={tablet}
        hasContact={report.problem === undefined}
        batch={batch}
        listed={listed}
        person={person}
        definitions={definitions}
        asking={asking}
      />
    );
  return (
    <main class="choice holds">
      <h1>{say("holds.title")}</h1>
      <HowOld report={report} />
      <AnswerOf tablet={tablet} asked={asking.asked} />
      {order !== undefined && (
        <>
          {listed?.holds.length !== 0 && <p class="caution">{say("holds.caution")}</p>}
          {order.waiting.length === 0 && <p class="empty">{say("holds.none")}</p>}
          {order.waiting.map(part)}
          {order.decided.length > 0 && <h2 class="decided">{say("holds.decided")}</h2>}
          {order.decided.map(part)}
        </>
      )}
    </main>
  );
}
