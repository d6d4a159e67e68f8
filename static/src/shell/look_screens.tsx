// SPDX-License-Identifier: Apache-2.0
// Joins the pages of a look with what the tablet holds of it.
import { useMemo, useState } from "preact/hooks";
import { traysInHand } from "../bench/eyes.js";
import { EyesLine } from "../bench/eyes_line.js";
import {
  awaitingAuthor,
  lookState,
  piecesOf,
  type AwaitingAuthor,
  type InHand,
} from "../bench/look_state.js";
import { LOOK_PAGES, TrayChoice, type LookPage } from "../bench/tray_choice.js";
import { byName, onDay, type Person } from "../definitions/people.js";
import { tagOf } from "../folds/tags.js";
import type { ReadRecord } from "../records/kinds.js";
import { sayDifference, type Names } from "../words/differences.js";
import { isoDay } from "../words/measures.js";
import { say } from "../words/say.js";
import { add, openDifferences, personBehind, type LookDesk, type LookScreensProps } from "./desk.js";
import { CountPage, EndPage, ReworkOutAndBack, StrayPieces } from "./pages.js";
import { go } from "./routes.js";

const WHO_MAY: Readonly<Record<LookPage, readonly Person["roles"][number][]>> = {
  count: ["operator", "inspector", "lead"],
  rework: ["operator", "inspector", "lead"],
  strays: ["operator", "inspector", "lead"],
  sign: ["inspector", "lead"],
};

export function LookScreens(props: LookScreensProps) {
  const { desk, place, bench, records } = props;
  const { tablet, chain, everybody } = desk;
  const authors = tablet.authors.value;
  const byId = useMemo(() => new Map(records.map((record) => [record.id, record])), [records]);
  const state = useMemo(
    () => lookState(bench, byId, authors, place.look, chain),
    [bench, byId, authors, place.look, chain],
  );
  const all = useMemo(
    () => new Map(tablet.records.value.map((record) => [record.id, record])),
    [tablet.records.value],
  );
  const names: Names = {
    tray: (id) => String(bench.tally.trays.find((tray) => tray.id === id)?.number ?? ""),
    person: (id) => everybody.find((one) => one.id === id)?.name ?? "",
    tag: (piece) => tagOf(piece, all, { chain, letters: tablet.letters.value }),
  };
  const personOf = (signOn: string): string | undefined => personBehind(tablet, signOn);
  const onBack = (): void => go({ ...place, at: "trays" });
  const joined = { ...props, byId, state, names, personOf, onBack };
  switch (place.at) {
    case "trays":
      return <Trays {...joined} />;
    case "count":
      return <CountPage {...joined} />;
    case "rework":
      return <ReworkOutAndBack {...joined} />;
    case "strays":
      return <StrayPieces {...joined} />;
    case "sign":
      return <EndPage {...joined} />;
  }
}

function Trays({ desk, place, bench, byId, state, names, personOf, justClosed }: LookDesk) {
  const { tablet, line, definition, chain, person } = desk;
  const { batch, look } = place;
  const [notStored, setNotStored] = useState(false);
  const goOn = (tray: string): void => go({ at: "tally", batch, look, tray });
  const confirm = async ({ tray, signOns }: AwaitingAuthor): Promise<void> => {
    for (const of_sign_on of signOns) {
      const body = { look, tray: tray.id, of_sign_on };
      setNotStored((await add(desk, { kind: "authorship_confirmed", v: 1, batch, body })) === undefined);
    }
  };
  const begin = async (number: number): Promise<void> => {
    const card = state.cards.find((one) => one.number === number)?.due ?? 0;
    // The tray's own places, not the card's pieces: the empty ones are counted on the tray at its end, and that
    // number would say nothing of its own if the card had gone into the places.
    const places = Math.max(definition.tray_places, card);
    const body = { look, number, places };
    const about = { kind: "tray_opened", v: 1, batch, definition: line.definition } as const;
    const tray = await add(desk, { ...about, body });
    setNotStored(tray === undefined);
    if (tray !== undefined) goOn(tray);
  };
  const take = async ({ tray, left }: InHand, from: "left" | "first"): Promise<void> => {
    const given = left === undefined ? {} : { given: left.given };
    const first = from === "first" ? ({ from_first: true } as const) : {};
    const body = { look, tray: tray.id, ...given, ...first };
    const taken = await add(desk, { kind: "handover_taken", v: 1, batch, body });
    setNotStored(taken === undefined);
    if (taken !== undefined) goOn(tray.id);
  };
  const { proven } = tablet;
  const isLater = definition.looks.indexOf(look) > 0;
  const differences = openDifferences(bench, look);
  return (
    <TrayChoice
      batchNumber={line.number}
      look={look}
      state={state}
      places={definition.tray_places}
      chain={chain}
      isWhole={tablet.isWhole(batch, look)}
      justClosed={justClosed}
      notStored={notStored}
      differences={differences.map((one) => sayDifference(one, names))}
      pages={LOOK_PAGES.filter((page) => person?.roles.some((role) => WHO_MAY[page].includes(role)))}
      tabletName={(device) => tabletName(tablet.records.value, device)}
      waiting={awaitingAuthor(bench.tally, byId, look, chain, (signOn) => tablet.proofOf(signOn))}
      mayConfirm={proven.value === "proven" || proven.value === "waiting"}
      onConfirm={(tray) => void confirm(tray)}
      onPerson={desk.onPerson}
      onBegin={(number) => void begin(number)}
      onGoOn={goOn}
      onEntries={(tray) => go({ at: "entries", batch, look, tray })}
      onTake={(one, from) => void take(one, from)}
      onPage={(page) => go({ at: page, batch, look })}
    >
      {isLater && person !== undefined && (
        <EyesLine
          tablet={tablet}
          batch={batch}
          look={look}
          person={person.id}
          inspectors={inspectorsToday(desk.everybody)}
          already={(who) =>
            traysInHand(who, look, bench.tally, byId, personOf).reduce(
              (sum, tray) => sum + piecesOf(tray, byId),
              0,
            )
          }
          next={state.cards.find((card) => card.number === state.nextNumber)?.due ?? definition.tray_places}
          due={state.due ?? 0}
        />
      )}
    </TrayChoice>
  );
}

function inspectorsToday(everybody: readonly Person[]): readonly Person[] {
  const today = isoDay(Date.now());
  return byName(everybody)
    .map((one) => onDay(one, today))
    .filter((one) => one.roles.includes("inspector"));
}

function tabletName(records: readonly ReadRecord[], device: string): string {
  const known = records.find((record) => record.id === device)?.known;
  return known?.kind === "device_enrolled" ? known.body.name : say("tray.other_tablet");
}
