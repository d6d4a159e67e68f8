// SPDX-License-Identifier: Apache-2.0
// Joins the bench's screens with what the tablet holds of a batch.
import { useEffect, useMemo, useState } from "preact/hooks";
import { LookChoice } from "../bench/look_choice.js";
import { TallyScreen } from "../bench/tally_screen.js";
import { TrayEnd } from "../bench/tray_end.js";
import { foldBench, type BenchState } from "../folds/bench.js";
import { say } from "../words/say.js";
import type { AtBatch, Desk } from "./desk.js";
import { gaugesOf } from "./gauge_records.js";
import { receiptsOf } from "./goods_records.js";
import { LookScreens } from "./look_screens.js";
import { Entries } from "./pages.js";
import { go } from "./routes.js";

export function BenchScreens({ desk, place }: { readonly desk: Desk; readonly place: AtBatch }) {
  const { tablet, line, parts } = desk;
  const records = tablet.records.value;
  const ofBatch = useMemo(
    () => records.filter((record) => record.batch === line.batch || record.id === line.batch),
    [records, line.batch],
  );
  const bench = useMemo(
    () =>
      foldBench(
        ofBatch,
        parts,
        tablet.authors.value,
        receiptsOf(ofBatch, records, tablet),
        gaugesOf(ofBatch, records, tablet),
      ),
    [ofBatch, records, parts, tablet, tablet.authors.value],
  );
  const look = "look" in place ? place.look : undefined;
  useEffect(() => {
    if (look !== undefined) tablet.carry(line.batch, look);
  }, [tablet, line.batch, look]);
  const [justClosed, setJustClosed] = useState<number>();
  if (place.at === "look") {
    return (
      <LookChoice
        batchNumber={line.number}
        looks={desk.definition.looks}
        onChosen={(chosen) => go({ at: "trays", batch: line.batch, look: chosen })}
        onMachine={mayCheck(desk) ? () => go({ at: "machine", batch: line.batch }) : undefined}
        onSaw={isAtMachines(desk) ? () => go({ at: "saw", batch: line.batch }) : undefined}
      />
    );
  }
  if (!("tray" in place)) {
    return <LookScreens desk={desk} place={place} bench={bench} records={ofBatch} justClosed={justClosed} />;
  }
  return <AtTray desk={desk} place={place} bench={bench} onClosed={setJustClosed} />;
}

/** At a machine stands an operator; a lead may help out. */
function isAtMachines({ person }: Desk): boolean {
  return person?.roles.some((role) => role === "operator" || role === "lead") ?? false;
}

/** Parts without checks have no way there. */
function mayCheck(desk: Desk): boolean {
  return isAtMachines(desk) && (desk.definition.characteristics ?? []).length > 0;
}

interface AtTrayProps {
  readonly desk: Desk;
  readonly place: Extract<AtBatch, { tray: string }>;
  readonly bench: BenchState;
  readonly onClosed: (number: number | undefined) => void;
}

function AtTray({ desk, place, bench, onClosed }: AtTrayProps) {
  const { tablet, line, leads } = desk;
  const { batch, look } = place;
  const records = useMemo(
    () => new Map(tablet.records.value.map((record) => [record.id, record])),
    [tablet.records.value],
  );
  const tray = bench.tally.trays.find((one) => one.id === place.tray);
  const trays = (closed?: number): void => {
    onClosed(closed);
    go({ at: "trays", batch, look });
  };
  const session = desk.sessions.of(desk, look, place.tray);
  const isOpen = tray !== undefined && tray.closings.length === 0;
  if (tray !== undefined && !isOpen && place.at === "entries") {
    return <Entries desk={desk} tray={tray} bench={bench} records={records} onBack={trays} />;
  }
  if (!isOpen || place.at === "entries") {
    return (
      <main class="stop is-calm">
        {tray === undefined && <p>{say("tally.not_here")}</p>}
        {tray !== undefined && <p>{say(isOpen ? "closed.open_again" : "tally.closed_already")}</p>}
        {isOpen && (
          <button type="button" class="key main" onClick={() => go({ ...place, at: "tally" })}>
            {say("tray.go_on", { number: tray.number })}
          </button>
        )}
        <button type="button" class="key" onClick={() => trays()}>
          {say("nav.trays")}
        </button>
      </main>
    );
  }
  if (place.at === "end") {
    return (
      <TrayEnd
        tablet={tablet}
        session={session}
        bench={bench}
        records={records}
        batchNumber={line.number}
        onBack={() => go({ ...place, at: "tally" })}
        onClosed={trays}
        onLeft={trays}
      />
    );
  }
  return (
    <TallyScreen
      tablet={tablet}
      session={session}
      bench={bench}
      records={records}
      batchNumber={line.number}
      leads={leads}
      isDemo={desk.isDemo}
      onEnd={() => go({ ...place, at: "end" })}
    />
  );
}
