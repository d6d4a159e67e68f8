// SPDX-License-Identifier: Apache-2.0
// Joins the screens at a machine with what the tablet holds of a batch.
import { useEffect, useMemo } from "preact/hooks";
import { characteristicsOf } from "../folds/check_outcome.js";
import { foldChecks } from "../folds/checks.js";
import { CheckPage, type Told } from "../machine/check_page.js";
import { OperationChoice } from "../machine/operation_choice.js";
import type { Draft } from "../records/kinds.js";
import { inWords } from "../words/say.js";
import { add, type Desk } from "./desk.js";
import { go, type Route } from "./routes.js";

/** The pair that a machine carries: what belongs to the batch and to no look. */
const NO_LOOK = "machine";

export interface MachineScreensProps {
  readonly desk: Desk;
  readonly place: Extract<Route, { at: "machine" | "checks" }>;
}

export function MachineScreens({ desk, place }: MachineScreensProps) {
  const { tablet, line, definition, parts } = desk;
  const { batch } = place;
  useEffect(() => tablet.carry(batch, NO_LOOK), [tablet, batch]);
  const records = tablet.records.value;
  const authors = tablet.authors.value;
  const checks = useMemo(
    () =>
      foldChecks(
        records.filter((one) => one.batch === batch || one.id === batch),
        parts,
        authors,
      ),
    [records, batch, parts, authors],
  );
  const plan = useMemo(() => characteristicsOf(definition), [definition]);
  if (place.at === "machine") {
    return (
      <OperationChoice
        batchNumber={line.number}
        definition={definition}
        onChosen={(operation) => go({ at: "checks", batch, operation: String(operation) })}
        onBack={() => go({ at: "batches" })}
      />
    );
  }
  const operation = Number(place.operation);
  const name = (definition.operations ?? []).find((one) => one.operation === operation)?.words ?? {};
  return (
    <CheckPage
      key={place.operation}
      batchNumber={line.number}
      operation={operation}
      operationName={inWords(name)}
      plan={plan}
      checks={checks}
      onTell={(told: Told) => add(desk, { ...told, v: 1, batch, definition: line.definition } as Draft)}
      onBack={() => go({ at: "machine", batch })}
    />
  );
}
