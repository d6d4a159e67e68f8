// SPDX-License-Identifier: Apache-2.0
// Joins the screens at a machine with what the tablet holds of a batch.
import { useEffect, useMemo } from "preact/hooks";
import { characteristicsOf } from "../folds/check_outcome.js";
import { foldChecks } from "../folds/checks.js";
import { CheckPage } from "../machine/check_page.js";
import { markOf } from "../machine/marks.js";
import { OperationChoice } from "../machine/operation_choice.js";
import { Stints } from "../machine/stints.js";
import type { Told } from "../machine/tell.js";
import type { Draft } from "../records/kinds.js";
import { inWords } from "../words/say.js";
import { BeginStint, CountStint } from "./count_screens.js";
import { add, NO_LOOK, type Desk } from "./desk.js";
import { MoreCounts } from "./more_screens.js";
import { gaugeDesk } from "./gauge_records.js";
import { go, type MachinePlace, type Route } from "./routes.js";

export interface MachineScreensProps {
  readonly desk: Desk;
  readonly place: Extract<Route, { at: "machine" | MachinePlace }>;
}

export function MachineScreens({ desk, place }: MachineScreensProps) {
  const { tablet, line, definition, parts } = desk;
  const { batch } = place;
  useEffect(() => tablet.carry(batch, NO_LOOK), [tablet, batch]);
  const records = tablet.records.value;
  const authors = tablet.authors.value;
  const ofBatch = useMemo(
    () => records.filter((one) => one.batch === batch || one.id === batch),
    [records, batch],
  );
  const checks = useMemo(
    () => foldChecks(ofBatch, parts, authors, line.definition),
    [ofBatch, parts, authors, line.definition],
  );
  const isHere = ofBatch.some(({ known }) => known?.kind === "batch_opened");
  const gauges = useMemo(() => gaugeDesk(records, tablet), [records, tablet, authors, tablet.signOn.value]);
  const plan = useMemo(() => characteristicsOf(definition), [definition]);
  if (place.at === "machine") {
    const begun = (operation: number): boolean => new Stints(ofBatch, authors, operation).all.length > 0;
    return (
      <OperationChoice
        batchNumber={line.number}
        definition={definition}
        isHere={isHere}
        onChosen={(operation) =>
          go({ at: begun(operation) ? "checks" : "begin", batch, operation: String(operation) })
        }
        onBack={() => go({ at: "batches" })}
      />
    );
  }
  const operation = Number(place.operation);
  const words = (definition.operations ?? []).find((one) => one.operation === operation)?.words ?? {};
  const to = (at: MachinePlace) => (): void => go({ ...place, at });
  const joined = { desk, operation, operationName: inWords(words), records: ofBatch, to };
  const toOperations = (): void => go({ at: "machine", batch });
  if (place.at === "begin") return <BeginStint key={place.operation} {...joined} onBack={toOperations} />;
  if (place.at === "counts") return <CountStint key={place.operation} {...joined} onBack={toOperations} />;
  if (place.at === "more") return <MoreCounts key={place.operation} {...joined} onBack={toOperations} />;
  return (
    <CheckPage
      key={place.operation}
      batchNumber={line.number}
      operation={operation}
      operationName={inWords(words)}
      isHere={isHere}
      plan={plan}
      checks={checks}
      gauges={gauges}
      now={() => tablet.now()}
      markOf={(what) => markOf(ofBatch, operation, what)}
      onTell={(told: Told) => add(desk, { ...told, v: 1, batch, definition: line.definition } as Draft)}
      onGaugeSaid={(draft) => addOfGauge(tablet, draft)}
      onBegin={to("begin")}
      onCount={to("counts")}
      onBack={toOperations}
    />
  );
}

/** What is said of a gauge is of no batch: it may measure in many. */
async function addOfGauge(tablet: Desk["tablet"], draft: Draft): Promise<string | undefined> {
  const answer = await tablet.add(draft);
  return answer.stored ? answer.record.id : undefined;
}
