// SPDX-License-Identifier: Apache-2.0
// Joins the pages of a look with what the tablet holds of it.
import { useMemo, useState } from "preact/hooks";
import { CountIn, type EarlierCount } from "../bench/count_in.js";
import type { Card } from "../bench/count_cards.js";
import { traysInHand } from "../bench/eyes.js";
import { EyesLine, useEyes } from "../bench/eyes_line.js";
import { LookEnd } from "../bench/look_end.js";
import { openPoints } from "../bench/look_points.js";
import { seenOfLook } from "../bench/look_seen.js";
import {
  awaitingAuthor,
  lookState,
  piecesOf,
  type AwaitingAuthor,
  type InHand,
  type LookState,
} from "../bench/look_state.js";
import { ReworkPage, type NewVerdict } from "../bench/rework_page.js";
import { StraysPage } from "../bench/strays_page.js";
import { LOOK_PAGES, TrayChoice, type LookPage } from "../bench/tray_choice.js";
import { onDay, type Person } from "../definitions/people.js";
import type { BenchState } from "../folds/bench.js";
import { tagOf } from "../folds/tags.js";
import { foundAt, withdrawn } from "../folds/tally.js";
import type { PieceVerdict } from "../folds/verdicts.js";
import type { Draft, ReadRecord } from "../records/kinds.js";
import { isoDay } from "../words/measures.js";
import { sayPoint, type Names } from "../words/points.js";
import { say } from "../words/say.js";
import type { AtBatch, Desk } from "./bench_screens.js";
import { go } from "./routes.js";

type AtLook = Exclude<AtBatch, { at: "look" } | { tray: string }>;

const WHO_MAY: Readonly<Record<LookPage, readonly Person["roles"][number][]>> = {
  count: ["operator", "inspector", "lead"],
  rework: ["operator", "inspector", "lead"],
  strays: ["operator", "inspector", "lead"],
  sign: ["inspector", "lead"],
};

export interface LookScreensProps {
  readonly desk: Desk;
  readonly place: AtLook;
  readonly bench: BenchState;
  /** The records of the batch. */
  readonly records: readonly ReadRecord[];
  readonly justClosed: number | undefined;
}

/** What every page of a look works with. */
interface Joined extends LookScreensProps {
  readonly byId: ReadonlyMap<string, ReadRecord>;
  readonly state: LookState;
  readonly names: Names;
  readonly personOf: (signOn: string) => string | undefined;
  readonly onBack: () => void;
}

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
  const present = tablet.signOn.value;
  const personOf = (signOn: string): string | undefined =>
    authors.get(signOn) ?? (present?.id === signOn ? present.person : undefined);
  const onBack = (): void => go({ ...place, at: "trays" });
  const joined = { ...props, byId, state, names, personOf, onBack };
  switch (place.at) {
    case "trays":
      return <Trays {...joined} />;
    case "count":
      return <Count {...joined} />;
    case "rework":
      return <Rework {...joined} />;
    case "strays":
      return <Strays {...joined} />;
    case "sign":
      return <End {...joined} />;
  }
}

/** Add a record about the batch; its id once it is stored. */
async function add({ tablet }: Desk, draft: Draft): Promise<string | undefined> {
  const answer = await tablet.add(draft);
  return answer.stored ? answer.record.id : undefined;
}

function Trays({ desk, place, bench, byId, state, names, personOf, justClosed }: Joined) {
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
      differences={differences.map((one) => sayPoint(one, names))}
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
  return everybody.map((one) => onDay(one, today)).filter((one) => one.roles.includes("inspector"));
}

/** Differences of a look and of its batch that nobody has accepted. */
function openDifferences({ ledger }: BenchState, look: string): BenchState["ledger"]["differences"] {
  return ledger.differences.filter((one) => [look, ""].includes(one.look) && one.accepted_by === "");
}

function tabletName(records: readonly ReadRecord[], device: string): string {
  const known = records.find((record) => record.id === device)?.known;
  return known?.kind === "device_enrolled" ? known.body.name : say("tray.other_tablet");
}

function Count({ desk, place, bench, byId, names, personOf, onBack }: Joined) {
  const { line, definition, person, tablet } = desk;
  const { batch, look } = place;
  const about = { v: 1, batch, definition: line.definition } as const;
  const { dead } = withdrawn(byId, tablet.authors.value);
  const counts = [...byId.values()].flatMap(({ id, known }): EarlierCount[] => {
    if (known?.kind !== "pieces_counted" || known.body.look !== look || dead.has(id)) return [];
    const by = names.person(personOf(known.sign_on) ?? "");
    return [{ id, pieces: known.body.pieces, by, at: foundAt(known)[0] }];
  });
  const store = (cards: readonly Card[], operation: number | undefined): Promise<string | undefined> => {
    const pieces = cards.reduce((sum, card) => sum + card.pieces, 0);
    const behind = operation === undefined ? {} : { operation };
    const body = { look, pieces, trays: [...cards], ...behind };
    return add(desk, { ...about, kind: "pieces_counted", body });
  };
  return (
    <CountIn
      batchNumber={line.number}
      look={look}
      definition={definition}
      opened={bench.ledger.opened}
      counts={counts}
      isLooker={traysInHand(person?.id ?? "", look, bench.tally, byId, personOf).length > 0}
      onStore={store}
      onTakeBack={async (record) =>
        (await add(desk, { ...about, kind: "record_withdrawn", body: { look, record } })) !== undefined
      }
      onBack={onBack}
    />
  );
}

function Rework({ desk, place, bench, state, names, onBack }: Joined) {
  const { line, definition } = desk;
  const { batch, look } = place;
  const about = { v: 1, batch, definition: line.definition } as const;
  const here = bench.verdicts.filter((one) => one.look === look);
  const judge = async (one: PieceVerdict, said: NewVerdict): Promise<boolean> => {
    const of = { look, piece: one.piece, round: one.round + 1 };
    const { verdict } = said;
    if (verdict !== "reject") {
      return (await add(desk, { ...about, kind: "piece_judged", body: { ...of, verdict } })) !== undefined;
    }
    const where = said.zone === undefined ? {} : { zone: said.zone };
    const body = { ...of, tray: one.tray, defect: said.defect, ...where };
    return (await add(desk, { ...about, kind: "defect_tallied", body })) !== undefined;
  };
  return (
    <ReworkPage
      batchNumber={line.number}
      look={look}
      definition={definition}
      page={state.page}
      pieces={here.filter((one) => one.verdict === "rework")}
      lookedAtAnew={here.reduce((sum, one) => sum + one.round - 1, 0)}
      tag={names.tag}
      onCounted={async (kind, pieces) =>
        (await add(desk, { v: 1, batch, kind, body: { look, pieces } })) !== undefined
      }
      onVerdict={judge}
      onBack={onBack}
    />
  );
}

function Strays({ desk, place, state, onBack }: Joined) {
  const { batch, look } = place;
  const about = { v: 1, batch } as const;
  return (
    <StraysPage
      batchNumber={desk.line.number}
      look={look}
      cards={state.cards}
      onForeign={async (pieces, tray) => {
        const body = tray === undefined ? { look, pieces } : { look, pieces, tray };
        return (await add(desk, { ...about, kind: "foreign_piece_found", body })) !== undefined;
      }}
      onFound={async (pieces, where) =>
        (await add(desk, { ...about, kind: "piece_found", body: { look, where, pieces } })) !== undefined
      }
      onBack={onBack}
    />
  );
}

function End({ desk, place, bench, byId, state, names, personOf, onBack }: Joined) {
  const { tablet, line, definition, person } = desk;
  const { batch, look } = place;
  const isLater = definition.looks.indexOf(look) > 0;
  const eyes = useEyes(tablet, batch, look);
  const page = bench.looks.find((one) => one.look === look);
  const points = page?.points ?? [];
  const isWhole = tablet.isWhole(batch, look);
  const differences = openDifferences(bench, look);
  const twice = isLater
    ? (eyes?.eyes ?? []).filter(
        (one) => traysInHand(one.person, look, bench.tally, byId, personOf).length > 0,
      )
    : [];
  const signature = byId.get(page?.signed_by ?? "");
  return (
    <LookEnd
      batchNumber={line.number}
      look={look}
      page={state.page}
      points={openPoints(points, differences.length, names)}
      isComplete={
        page !== undefined &&
        points.length === 0 &&
        isWhole &&
        (!isLater || eyes !== undefined) &&
        twice.length === 0
      }
      isWhole={isWhole}
      areEyesUnknown={isLater && eyes === undefined}
      signedBy={names.person(personOf(signature?.sign_on ?? "") ?? "")}
      person={person}
      onSign={async (pin) => {
        const seen = seenOfLook(byId.values(), look);
        const draft = { kind: "look_signed", v: 1, batch, body: { look, seen } } as const;
        const answer = await tablet.signOnAs(person?.id ?? "", pin, draft);
        tablet.syncNow();
        return answer.stored;
      }}
      onBack={onBack}
    />
  );
}
