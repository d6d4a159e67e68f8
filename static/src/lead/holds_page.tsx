// SPDX-License-Identifier: Apache-2.0
// What stands in a batch's way, batch by batch; below it what was decided lately.
import type { Person } from "../definitions/people.js";
import type { PartDefinition } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { AnswerOf, useRequest } from "../widgets/asked.js";
import { say } from "../words/say.js";
import { HowOld, useDated } from "./dated_report.js";
import { HeldBatchPart, type HeldBatchProps } from "./held_batch.js";
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
  const asking = useRequest(tablet);
  return (
    <main class="choice holds">
      <h1>{say("holds.title")}</h1>
      <HowOld report={report} />
      <AnswerOf tablet={tablet} asked={asking.asked} />
      {listed !== undefined && (
        <Listed
          tablet={tablet}
          hasContact={report.problem === undefined}
          listed={listed}
          first={first}
          person={person}
          definitions={definitions}
          asking={asking}
        />
      )}
    </main>
  );
}

interface ListedProps extends Omit<HeldBatchProps, "batch"> {
  readonly first: string | undefined;
}

function Listed({ first, ...props }: ListedProps) {
  const { waiting, decided } = inReadingOrder(props.listed, first);
  const part = (batch: HeldBatch) => <HeldBatchPart key={batch.batch} {...props} batch={batch} />;
  return (
    <>
      {props.listed.holds.length > 0 && <p class="caution">{say("holds.caution")}</p>}
      {waiting.length === 0 && <p class="empty">{say("holds.none")}</p>}
      {waiting.map(part)}
      {decided.length > 0 && <h2 class="decided">{say("holds.decided")}</h2>}
      {decided.map(part)}
    </>
  );
}
