// SPDX-License-Identifier: Apache-2.0
// The pages of a look beside its trays, joined with what the tablet holds: the count, rework, strays, the end.
import type { Card } from "../bench/count_cards.js";
import { CountIn, type EarlierCount } from "../bench/count_in.js";
import { traysInHand } from "../bench/eyes.js";
import { useEyes } from "../bench/eyes_line.js";
import { LookEnd } from "../bench/look_end.js";
import { openPoints } from "../bench/look_points.js";
import { seenOfLook } from "../bench/look_seen.js";
import { ReworkPage, type NewVerdict } from "../bench/rework_page.js";
import { StraysPage } from "../bench/strays_page.js";
import { foundAt, withdrawn } from "../folds/gathered.js";
import type { PieceVerdict } from "../folds/verdicts.js";
import { add, openDifferences, type LookDesk } from "./desk.js";

export function Count({ desk, place, bench, byId, names, personOf, onBack }: LookDesk) {
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

export function Rework({ desk, place, bench, state, names, onBack }: LookDesk) {
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

export function Strays({ desk, place, state, onBack }: LookDesk) {
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

export function End({ desk, place, bench, byId, state, names, personOf, onBack }: LookDesk) {
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
