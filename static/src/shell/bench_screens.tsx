// SPDX-License-Identifier: Apache-2.0
// Joins the bench's screens with what the tablet holds of a batch.
import { signal } from "@preact/signals";
import { useEffect, useMemo, useState } from "preact/hooks";
import { awaitingAuthor, lookState, type AwaitingAuthor } from "../bench/look_state.js";
import { LookChoice } from "../bench/look_choice.js";
import { TallyScreen } from "../bench/tally_screen.js";
import { TallySession } from "../bench/tally_session.js";
import { TrayChoice } from "../bench/tray_choice.js";
import { TrayEnd } from "../bench/tray_end.js";
import { foldBench, type BenchState } from "../folds/bench.js";
import type { Tally } from "../folds/tally.js";
import type { PartDefinition } from "../records/kinds.js";
import type { BatchLine, Tablet } from "../sync/contract.js";
import { say } from "../words/say.js";
import { go, type Route } from "./routes.js";

/** Everything of one batch that its screens need. */
export interface Desk {
  readonly tablet: Tablet;
  readonly line: BatchLine;
  readonly definition: PartDefinition;
  readonly parts: ReadonlyMap<string, PartDefinition>;
  readonly leads: readonly string[];
  readonly chain: string;
  readonly isDemo: boolean;
  readonly sessions: Sessions;
  /** Ask who goes on. */
  readonly onPerson: () => void;
}

/** The session of the tray in hand: it outlives its screen, because it holds what is not stored. */
export class Sessions {
  readonly #present = signal<TallySession | undefined>(undefined);

  /** The session that holds something not stored, if any: nothing may lead away from it. */
  held(): TallySession | undefined {
    const session = this.#present.value;
    return session !== undefined && session.unstored.value.length > 0 ? session : undefined;
  }

  of(desk: Desk, look: string, tray: string): TallySession {
    const present = this.#present.peek();
    if (present?.bench.tray === tray) return present;
    const { line, definition } = desk;
    const bench = { batch: line.batch, definitionId: line.definition, definition, look, tray };
    const session = new TallySession(desk.tablet, bench);
    this.#present.value = session;
    return session;
  }
}

/** Places of the bench; the page of a batch is the lead's. */
type AtBatch = Exclude<Extract<Route, { batch: string }>, { at: "batch" }>;

export function BenchScreens({ desk, place }: { readonly desk: Desk; readonly place: AtBatch }) {
  const { tablet, line, parts } = desk;
  const records = tablet.records.value;
  const ofBatch = useMemo(
    () => records.filter((record) => record.batch === line.batch || record.id === line.batch),
    [records, line.batch],
  );
  const bench = useMemo(
    () => foldBench(ofBatch, parts, tablet.authors.value),
    [ofBatch, parts, tablet.authors.value],
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
      />
    );
  }
  if (place.at === "trays") {
    return <Trays desk={desk} look={place.look} tally={bench.tally} justClosed={justClosed} />;
  }
  return <AtTray desk={desk} place={place} bench={bench} onClosed={setJustClosed} />;
}

interface TraysProps {
  readonly desk: Desk;
  readonly look: string;
  readonly tally: Tally;
  readonly justClosed: number | undefined;
}

function Trays({ desk, look, tally, justClosed }: TraysProps) {
  const { tablet, line, definition, chain } = desk;
  const [notStored, setNotStored] = useState(false);
  const byId = useMemo(
    () => new Map(tablet.records.value.map((record) => [record.id, record])),
    [tablet.records.value],
  );
  const waiting = awaitingAuthor(tally, byId, look, chain, (signOn) => tablet.proofOf(signOn));
  const confirm = async ({ tray, signOns }: AwaitingAuthor): Promise<void> => {
    for (const of_sign_on of signOns) {
      const body = { look, tray: tray.id, of_sign_on };
      const answer = await tablet.add({ kind: "authorship_confirmed", v: 1, batch: line.batch, body });
      setNotStored(!answer.stored);
    }
  };
  const goOn = (tray: string): void => go({ at: "tally", batch: line.batch, look, tray });
  const begin = async (number: number): Promise<void> => {
    const answer = await tablet.add({
      kind: "tray_opened",
      v: 1,
      batch: line.batch,
      definition: line.definition,
      body: { look, number, places: definition.tray_places },
    });
    setNotStored(!answer.stored);
    if (answer.stored) goOn(answer.record.id);
  };
  const { proven } = tablet;
  return (
    <TrayChoice
      waiting={waiting}
      mayConfirm={proven.value === "proven" || proven.value === "waiting"}
      onConfirm={(tray) => void confirm(tray)}
      onPerson={desk.onPerson}
      batchNumber={line.number}
      look={look}
      pieces={line.pieces}
      places={definition.tray_places}
      state={lookState(tally, byId, look, chain)}
      chain={chain}
      isWhole={tablet.isWhole(line.batch, look)}
      justClosed={justClosed}
      notStored={notStored}
      onBegin={(number) => void begin(number)}
      onGoOn={goOn}
    />
  );
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
  if (tray === undefined || tray.closings.length > 0) {
    return (
      <main class="stop is-calm">
        <p>{say(tray === undefined ? "tally.not_here" : "tally.closed_already")}</p>
        <button type="button" class="key main" onClick={() => trays()}>
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
