// SPDX-License-Identifier: Apache-2.0
// What stands in a batch's way, batch by batch.
import type { Person } from "../definitions/people.js";
import type { PartDefinition } from "../records/kinds.js";
import type { Tablet } from "../sync/contract.js";
import { AnswerOf, useRequest } from "../widgets/asked.js";
import { say } from "../words/say.js";
import { HowOld, useDated } from "./dated_report.js";
import { HeldBatchPart } from "./held_batch.js";
import { holdsFrom, type HeldBatch } from "./holds_list.js";

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
        <>
          {listed.holds.length + listed.queries.length === 0 && <p class="empty">{say("holds.none")}</p>}
          {firstOfAll(listed.batches, first).map((batch) => (
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
          ))}
        </>
      )}
    </main>
  );
}

function firstOfAll(batches: readonly HeldBatch[], first: string | undefined): readonly HeldBatch[] {
  return [...batches].sort((left, right) => Number(right.batch === first) - Number(left.batch === first));
}
