// SPDX-License-Identifier: Apache-2.0
// Which screen stands: by the tablet's state, by whether somebody is signed on, by the address.
import { useSignal } from "@preact/signals";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { BatchChoice } from "../bench/batch_choice.js";
import { knownBatches } from "../bench/known_batches.js";
import type { TallySession } from "../bench/tally_session.js";
import { byName, onDay, people, type Person } from "../definitions/people.js";
import { partDefinitions } from "../definitions/published.js";
import type { PartDefinition, ReadRecord } from "../records/kinds.js";
import { SignOn } from "../setup/sign_on.js";
import type { Tablet } from "../sync/contract.js";
import { isoDay } from "../words/measures.js";
import { say } from "../words/say.js";
import { BenchScreens } from "./bench_screens.js";
import { Sessions } from "./desk.js";
import type { Invitation } from "./invitation.js";
import { idleLimit, watchIdle } from "./idle_lock.js";
import { NewChain } from "./new_chain.js";
import {
  BatchListPage,
  BatchPage,
  DevicesPage,
  Enrol,
  GaugesPage,
  GoodsScreens,
  HoldsPage,
  MachineScreens,
  OpenBatch,
  MachineChecksPage,
  ParetoPage,
  PedalPage,
  PeoplePage,
  ReceiptsPage,
  SetAsidePage,
  SetPin,
  ShiftPage,
} from "./pages.js";
import { go, route, speak, type Route } from "./routes.js";
import { CannotRecord, JournalBroken, OpenElsewhere, Starting } from "./stops.js";
import { TopBar } from "./top_bar.js";

export interface AppProps {
  readonly tablet: Tablet;
  /** What the address brought for a device that is not known yet. */
  readonly invitation: Invitation;
}

export function App({ tablet, invitation }: AppProps) {
  const state = tablet.state.value;
  const sessions = useRef(new Sessions()).current;
  switch (state.phase) {
    case "starting":
      return <Starting />;
    case "not_enrolled":
      return (
        <Enrol
          tablet={tablet}
          demo={state.demo}
          number={state.number}
          invitation={invitation}
          onLanguage={(chosen) => void speak(chosen)}
        />
      );
    case "open_elsewhere":
      return <OpenElsewhere />;
    case "cannot_record":
      return <CannotRecord why={state.why} />;
    case "journal_broken":
      return <JournalBroken tablet={tablet} at={state.at} />;
    case "ready":
      return <Ready tablet={tablet} sessions={sessions} />;
  }
}

interface ReadyProps {
  readonly tablet: Tablet;
  /** Held outside the ready state, because what is not stored must outlive a change of state. */
  readonly sessions: Sessions;
}

function Ready({ tablet, sessions }: ReadyProps) {
  const records = tablet.records.value;
  const everybody = useMemo(() => people(records), [records]);
  const signOn = tablet.signOn.value;
  const today = isoDay(Date.now());
  const here = useMemo(() => everybody.map((one) => onDay(one, today)), [everybody, today]);
  const person = here.find((one) => one.id === signOn?.person);
  // The sign-on screen stands until it has said what the server says of the PIN.
  const chain = signOn?.id.split(":")[0] ?? "";
  const limit = idleLimit(person?.roles ?? []);
  // A page that was closed and opened again is as idle as its last own record is old.
  const [wasIdle] = useState(() => signOn === undefined || Date.now() - lastOwn(records, chain) >= limit);
  const isChoosing = useSignal(wasIdle);
  const isHeld = sessions.held() !== undefined;
  useStay(isHeld);
  const choosing = signOn === undefined || (isChoosing.value && !isHeld);
  useEffect(() => {
    if (choosing || isHeld) return undefined;
    return watchIdle(document, limit, () => {
      isChoosing.value = true;
    });
  }, [choosing, isHeld, limit]);
  // Invented works say so on every screen; on the tally with one word, because the room belongs to the keys.
  const isDemo = records.some(({ known }) => known?.kind === "works_opened" && known.body.demo);
  const leads = here.filter((one) => one.roles.includes("lead")).map((one) => one.name);
  return (
    <div class="app">
      <TopBar
        tablet={tablet}
        person={choosing ? undefined : person}
        isHeld={isHeld}
        onPerson={() => {
          isChoosing.value = true;
        }}
      />
      {isDemo && route.value.at !== "tally" && <p class="demo-mark">{say("app.demo")}</p>}
      {choosing ? (
        <SignOn
          tablet={tablet}
          people={byName(everybody)}
          onSignedOn={() => {
            isChoosing.value = false;
          }}
          onLanguage={(chosen) => void speak(chosen)}
          SetPin={SetPin}
        />
      ) : (
        <Screen
          tablet={tablet}
          chain={chain}
          leads={leads}
          everybody={everybody}
          person={person}
          isDemo={isDemo}
          sessions={sessions}
          onPerson={() => {
            isChoosing.value = true;
          }}
        />
      )}
    </div>
  );
}

/** A reader sees and changes nothing; so does somebody behind the last day. */
function mayRecord(person: Person | undefined): boolean {
  return person?.roles.some((role) => role !== "reader") ?? false;
}

/** When this tablet recorded something last, on its own clock. */
function lastOwn(records: readonly ReadRecord[], chain: string): number {
  return records.reduce((last, one) => (one.chain === chain ? Math.max(last, one.made_at) : last), 0);
}

interface ScreenProps {
  readonly tablet: Tablet;
  readonly chain: string;
  readonly leads: readonly string[];
  readonly everybody: readonly Person[];
  readonly person: Person | undefined;
  readonly isDemo: boolean;
  readonly sessions: Sessions;
  readonly onPerson: () => void;
}

function Screen({ tablet, chain, leads, everybody, person, isDemo, sessions, onPerson }: ScreenProps) {
  const records = tablet.records.value;
  const files = tablet.files.value;
  const parts = useMemo(() => partDefinitions(records, files), [records, files]);
  const place = placeOf(sessions.held()) ?? route.value;
  if (place.at === "pareto") return <ParetoPage tablet={tablet} />;
  if (place.at === "holds") {
    return person === undefined ? null : (
      <HoldsPage tablet={tablet} person={person} definitions={parts} first={place.batch} />
    );
  }
  if (place.at === "shift") {
    return person === undefined ? null : (
      <ShiftPage
        tablet={tablet}
        person={person}
        definitions={parts}
        onBatch={(batch) => go({ at: "batch", batch })}
        onChecks={() => go({ at: "machine_checks" })}
      />
    );
  }
  if (place.at === "machine_checks") {
    return (
      <MachineChecksPage
        tablet={tablet}
        onBatch={(batch) => go({ at: "batch", batch })}
        onShift={() => go({ at: "shift" })}
      />
    );
  }
  if (place.at === "decide") {
    return (
      <BatchListPage
        tablet={tablet}
        onChosen={(batch) => go({ at: "batch", batch })}
        onReceipts={() => go({ at: "receipts" })}
        onGauges={() => go({ at: "gauges" })}
      />
    );
  }
  if (place.at === "batch") {
    return person === undefined ? null : (
      <BatchPage
        key={place.batch}
        tablet={tablet}
        batch={place.batch}
        person={person}
        definitions={parts}
        onHolds={() => go({ at: "holds", batch: place.batch })}
      />
    );
  }
  if (place.at === "gauges") {
    return person === undefined ? null : (
      <GaugesPage
        tablet={tablet}
        person={person}
        onBatch={(batch) => go({ at: "batch", batch })}
        onHolds={() => go({ at: "holds" })}
      />
    );
  }
  if (place.at === "receipts") {
    return <ReceiptsPage tablet={tablet} onBatch={(batch) => go({ at: "batch", batch })} />;
  }
  if (place.at === "set_aside") return <SetAsidePage tablet={tablet} />;
  if (place.at === "people") return <PeoplePage tablet={tablet} people={byName(everybody)} />;
  if (place.at === "devices") return <DevicesPage tablet={tablet} />;
  if (place.at === "pedal") return <PedalPage onBack={() => go({ at: "batches" })} />;
  // What is not stored is looked after by whoever is there.
  if (!mayRecord(person) && sessions.held() === undefined) {
    return (
      <>
        <NewChain records={records} chain={chain} now={Date.now()} />
        <main class="choice">
          <p class="empty">{say("batches.for_readers")}</p>
        </main>
      </>
    );
  }
  const list = tablet.batches.value;
  const batches = knownBatches(list?.lines ?? [], records, (id) => partName(parts.get(id)));
  if (place.at === "open") {
    return (
      <OpenBatch
        tablet={tablet}
        definitions={parts}
        batches={batches}
        onOpened={(batch) => go({ at: "look", batch })}
        onBack={() => go({ at: "batches" })}
      />
    );
  }
  if (place.at === "batches") {
    return (
      <>
        <NewChain records={records} chain={chain} now={Date.now()} />
        <BatchChoice
          batches={batches}
          asOf={list?.asOf}
          onChosen={(line) => go({ at: "look", batch: line.batch })}
          onOpen={() => go({ at: "open" })}
          onGoods={() => go({ at: "goods" })}
          onPedal={() => go({ at: "pedal" })}
        />
      </>
    );
  }
  if (place.at === "goods" || place.at === "receipt") {
    return <GoodsScreens tablet={tablet} place={place} batch={undefined} />;
  }
  const line = batches.find((one) => one.batch === place.batch);
  const definition = line && parts.get(line.definition);
  if (line === undefined || definition === undefined) {
    return (
      <main class="stop is-calm">
        <p>{say(line === undefined ? "batches.none" : "batches.no_definition")}</p>
        <button type="button" class="key main" onClick={() => go({ at: "batches" })}>
          {say("nav.batches")}
        </button>
      </main>
    );
  }
  const desk = {
    tablet,
    line,
    definition,
    parts,
    leads,
    chain,
    isDemo,
    sessions,
    onPerson,
    person,
    everybody,
  };
  if (place.at === "saw") return <GoodsScreens tablet={tablet} place={place} batch={line} />;
  if (place.at === "machine" || "operation" in place) return <MachineScreens desk={desk} place={place} />;
  return <BenchScreens desk={desk} place={place} />;
}

/** Where a session that holds something not stored is looked after, wherever the address points. */
function placeOf(held: TallySession | undefined): Route | undefined {
  if (held === undefined) return undefined;
  const { batch, look, tray } = held.bench;
  return { at: "tally", batch, look, tray };
}

/** While something is not stored, the browser asks before it closes the page. */
function useStay(isHeld: boolean): void {
  useEffect(() => {
    if (!isHeld) return undefined;
    const stay = (event: BeforeUnloadEvent): void => event.preventDefault();
    addEventListener("beforeunload", stay);
    return () => removeEventListener("beforeunload", stay);
  }, [isHeld]);
}

function partName(definition: PartDefinition | undefined): string {
  return definition === undefined ? "" : `${definition.part} ${definition.revision}`;
}
