// SPDX-License-Identifier: Apache-2.0
// Whether a look is complete: every point that is still open, by name. Complete is where none is.
//
// The server's folds/look.py is the same function; tests/vectors/bench holds both to the same answers.
import type { Holds } from "./holds.js";
import { acceptances, keyOf, type Ledger, type LookCount } from "./ledger.js";
import { counts, isOfLook, Seen } from "./seen.js";
import { authorOf, byText, type Gathered } from "./gathered.js";
import type { Tally } from "./tally.js";
import type { PieceVerdict } from "./verdicts.js";

/** One thing that keeps a look from being complete. `amount` is 0 where there is nothing to count. */
export interface Point {
  readonly kind: string;
  readonly subject: string;
  readonly amount: number;
}

/**
 * Of the pieces looked at, those that other eyes saw at an earlier look: surely, perhaps, surely not.
 *
 * Order is lost between two looks, so that persons and counts are all there is to go by.
 */
export interface Independence {
  readonly other: string;
  readonly pieces: number;
  readonly certain: number;
  readonly possible: number;
  readonly never: number;
}

/** How many of the pieces looked at a person may have had in hand. */
export interface PersonsEyes {
  readonly person: string;
  readonly pieces: number;
}

/** One look: open points by kind and subject, the signature that has seen it all, whose eyes, and which were new. */
export interface Look {
  readonly look: string;
  readonly points: readonly Point[];
  readonly signed_by: string;
  readonly independence: readonly Independence[];
  readonly eyes: readonly PersonsEyes[];
}

type Eyes = ReadonlyMap<string, number>;

/** The states of lower folds, and the records they come from. */
interface Below {
  readonly gathered: Gathered;
  readonly tally: Tally;
  readonly holds: Holds;
  readonly verdicts: readonly PieceVerdict[];
  readonly ledger: Ledger;
}

/**
 * Fold all records of one batch.
 *
 * looks  the route's looks, in their order
 */
export function foldLooks(
  gathered: Gathered,
  looks: readonly string[],
  tally: Tally,
  holds: Holds,
  verdicts: readonly PieceVerdict[],
  ledger: Ledger,
): readonly Look[] {
  const below: Below = { gathered, tally, holds, verdicts, ledger };
  const accepted = acceptances(gathered.known, holds.requests);
  const pages = new Map(ledger.looks.map((page) => [page.look, page]));
  // A look that the route does not name was taken all the same: it stands behind those that it names.
  const order = [...new Set([...looks, ...pages.keys()])];
  const eyes = new Map<string, Eyes>([...pages].map(([look, page]) => [look, eyesOf(page, below)]));
  return order.map((look, place) => {
    const page = pages.get(look);
    const here = eyes.get(look) ?? new Map<string, number>();
    const before = order.slice(0, place).flatMap((other): [string, Eyes][] => {
      const there = eyes.get(other);
      return page !== undefined && there !== undefined && there.size > 0 ? [[other, there]] : [];
    });
    const { signed_by, lacking } = signing(look, gathered);
    const twice = [...here].flatMap(([person, pieces]): Point[] => {
      const shared = before.flatMap(([, there]) => there.get(person) ?? []);
      if (shared.length === 0) return [];
      const point = { kind: "same_eyes", subject: person, amount: Math.min(pieces, Math.max(...shared)) };
      return accepted.has(keyOf({ look, ...point })) ? [] : [point];
    });
    const points = [...pointsOf(look, page, below), ...counting(look, page, below), ...lacking, ...twice];
    return {
      look,
      points: points.sort(
        (left, right) =>
          byText(left.kind, right.kind) || byText(left.subject, right.subject) || left.amount - right.amount,
      ),
      signed_by,
      independence: before.flatMap(([other, there]) => {
        const otherPage = pages.get(other);
        return page === undefined || otherPage === undefined
          ? []
          : [independence(page, otherPage, here, there)];
      }),
      eyes: [...here]
        .map(([person, pieces]) => ({ person, pieces }))
        .sort((left, right) => byText(left.person, right.person)),
    };
  });
}

/** What lower folds leave open for this look, or for the batch. */
function pointsOf(
  look: string,
  page: LookCount | undefined,
  { tally, holds, verdicts, ledger }: Below,
): Point[] {
  const named = (kind: string, subject: string): Point => ({ kind, subject, amount: 0 });
  const isHere = (of: string): boolean => of === "" || of === look;
  const trays = page?.trays ?? [];
  return [
    ...tally.not_understood.map((id) => named("not_understood", id)),
    ...ledger.differences
      .filter((line) => isHere(line.look) && line.accepted_by === "")
      .map(({ kind, subject, amount }) => ({ kind, subject, amount })),
    ...holds.holds
      .filter((hold) => isHere(hold.look) && hold.lifted_by === "")
      .map(({ id }) => named("hold", id)),
    ...verdicts
      .filter((one) => one.look === look && (one.verdict === "query" || one.verdict === "rework"))
      .map(({ verdict, piece }) => named(`${verdict}_open`, piece)),
    ...((page?.counted_by ?? "") === "" ? [named("not_counted", "")] : []),
    ...trays
      .filter(({ openings }) => openings.length === 0)
      .map(({ number }) => named("tray_not_opened", String(number))),
    ...trays
      .flatMap(({ openings }) => openings.filter((opening) => !opening.is_closed))
      .map(({ tray }) => named("tray_not_closed", tray)),
    ...tally.trays
      .filter((tray) => tray.look === look)
      .flatMap(({ unproven }) => unproven.map((id) => named("closing_not_proven", id))),
  ];
}

/** Counts by nobody who is proven, and a due that comes from somebody who looks. */
function counting(look: string, page: LookCount | undefined, { gathered, tally }: Below): Point[] {
  const { known, proven, authors } = gathered;
  const looking = new Set(tally.marks.filter((mark) => mark.look === look).map(({ author }) => author));
  for (const tray of tally.trays) {
    if (tray.look !== look) continue;
    for (const closing of tray.closings) {
      const record = known.get(closing);
      if (record !== undefined) looking.add(authors.of(record, tray.id));
    }
  }
  return gathered.of("pieces_counted").flatMap(([record, { body }]): Point[] => {
    if (body.look !== look) return [];
    const counter = proven.get(authorOf(record) ?? "");
    if (counter === undefined) return [{ kind: "count_not_proven", subject: record.id, amount: 0 }];
    return record.id === page?.counted_by && looking.has(counter)
      ? [{ kind: "counted_by_looker", subject: counter, amount: 0 }]
      : [];
  });
}

/** The first signature that has seen all that counts, or what the signatures lack. */
function signing(look: string, gathered: Gathered): { signed_by: string; lacking: Point[] } {
  const signatures = gathered.of("look_signed").filter(([, { body }]) => body.look === look);
  if (signatures.length === 0)
    return { signed_by: "", lacking: [{ kind: "not_signed", subject: "", amount: 0 }] };
  const came = [...gathered.known.values()].filter((record) => counts(record) && isOfLook(record, look));
  const lacking: Point[] = [];
  let best: { id: string; unseen: number } | undefined;
  for (const [record, { body }] of signatures) {
    if (!gathered.proven.has(authorOf(record) ?? "")) {
      lacking.push({ kind: "signature_not_proven", subject: record.id, amount: 0 });
      continue;
    }
    const seen = new Seen(body.seen);
    const unseen = came.filter(({ id }) => !seen.covers(id)).length;
    if (best === undefined || unseen < best.unseen) best = { id: record.id, unseen };
  }
  if (best === undefined) lacking.push({ kind: "not_signed", subject: "", amount: 0 });
  else if (best.unseen > 0)
    lacking.push({ kind: "signed_before_this_came", subject: best.id, amount: best.unseen });
  // Another's signature under a wrong PIN takes nothing from one that has seen it all.
  else return { signed_by: best.id, lacking: [] };
  return { signed_by: "", lacking };
}

/**
 * How many of the pieces looked at each person may have had in hand: a tray was in the hands of all who marked in
 * it, closed it, left it to somebody else or took it over.
 */
function eyesOf(page: LookCount, { gathered, tally }: Below): Eyes {
  const { known, authors } = gathered;
  const persons = new Map<string, Set<string>>();
  const add = (tray: string, person: string): void => {
    persons.set(tray, (persons.get(tray) ?? new Set()).add(person));
  };
  for (const mark of tally.marks) add(mark.tray, mark.author);
  for (const tray of tally.trays) {
    for (const closing of tray.closings) {
      const record = known.get(closing);
      if (record !== undefined) add(tray.id, authors.of(record, tray.id));
    }
  }
  for (const [record, { body }] of [...gathered.of("handover_given"), ...gathered.of("handover_taken")])
    add(body.tray, authors.of(record, body.tray));
  const seen = new Map<string, number>();
  for (const { tray, looked } of page.trays.flatMap(({ openings }) => openings)) {
    if (looked <= 0) continue;
    for (const person of persons.get(tray) ?? [])
      if (person !== "") seen.set(person, (seen.get(person) ?? 0) + looked);
  }
  return seen;
}

function independence(page: LookCount, other: LookCount, here: Eyes, there: Eyes): Independence {
  // The pieces came out of all that there are, not out of those that were looked at up to now.
  const of = Math.max(page.due, page.looked, other.looked);
  let [most, least] = [0, 0];
  for (const [person, count] of here) {
    const before = there.get(person);
    if (before === undefined) continue;
    most += Math.min(count, before);
    // So many at least came back to the same hands, however they were mixed.
    least += Math.max(0, count + before - of);
  }
  const pieces = page.looked;
  most = Math.min(pieces, most);
  least = Math.min(most, least);
  return { other: other.look, pieces, certain: pieces - most, possible: most - least, never: least };
}
