// SPDX-License-Identifier: Apache-2.0
// Joins a closed tray's page with what the tablet holds of it.
import { closedEntries } from "../bench/closed_entries.js";
import { ClosedTray } from "../bench/closed_tray.js";
import type { BenchState } from "../folds/bench.js";
import type { Tray } from "../folds/tally.js";
import type { ReadRecord } from "../records/kinds.js";
import { add, personBehind, type Desk } from "./desk.js";

export interface EntriesProps {
  readonly desk: Desk;
  readonly tray: Tray;
  readonly bench: BenchState;
  readonly records: ReadonlyMap<string, ReadRecord>;
  readonly onBack: () => void;
}

export function Entries({ desk, tray, bench, records, onBack }: EntriesProps) {
  const { tablet, line, definition } = desk;
  const whose = {
    person: tablet.signOn.value?.person ?? "",
    personOf: (signOn: string) => personBehind(tablet, signOn),
    proven: tablet.authors.value,
  };
  return (
    <ClosedTray
      number={tray.number}
      entries={closedEntries(tray, bench.tally, records, definition, whose)}
      onTakeBack={async ({ id }, why) => {
        const about = { batch: line.batch, definition: line.definition };
        const body = { look: tray.look, record: id, why };
        return (await add(desk, { kind: "record_withdrawn", v: 1, ...about, body })) !== undefined;
      }}
      onBack={onBack}
    />
  );
}
