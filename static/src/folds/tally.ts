// SPDX-License-Identifier: Apache-2.0
// The defect tally of one batch: which marks stand, of which class, in which tray.
//
// The server's folds/tally.py is the same function; tests/vectors holds both to the same answers, and the
// fields bear the same names. The two books are kept apart: marks count defects, pieces count pieces.
import { canonical } from "../records/canonical.js";
import {
  NOT_SURE,
  type DefectClass,
  type DefectWord,
  type PartDefinition,
  type RecordOf,
} from "../records/kinds.js";
import { byId, byText, foundAt, type Gathered } from "./gathered.js";

export type Weight = DefectClass | "query";

const WORST_FIRST: readonly DefectClass[] = ["critical", "major", "minor"];

/**
 * One find that stands; an option not given is ''.
 *
 * author    the person, where that is proven or was confirmed
 * found_at  the device's time put right by its skew
 */
export interface Mark {
  readonly id: string;
  readonly look: string;
  readonly tray: string;
  readonly piece: string;
  readonly defect: string;
  readonly weight: Weight;
  readonly zone: string;
  readonly cavity: string;
  readonly sign_on: string;
  readonly author: string;
  readonly found_at: number;
  readonly time_doubtful: boolean;
  readonly quick_repeat: boolean;
}

/**
 * One tray of a look, with every closing that stands; more than one that differ are a named difference.
 *
 * unproven  those of the closings whose author is neither proven nor confirmed: the tray is not looked at by them
 */
export interface Tray {
  readonly id: string;
  readonly look: string;
  readonly number: number;
  readonly places: number;
  readonly closings: readonly string[];
  readonly closings_differ: boolean;
  readonly unproven: readonly string[];
}

/**
 * What the records of a batch say about its finds.
 *
 * marks                those that stand, by time found, then id
 * trays                those that stand, by look, number, id
 * useless_withdrawals  withdrawals that take nothing back: another author's, of a withdrawal, of nothing known
 * not_understood       records this version cannot fold: unknown kind or version, or an unknown definition
 */
export interface Tally {
  readonly marks: readonly Mark[];
  readonly trays: readonly Tray[];
  readonly useless_withdrawals: readonly string[];
  readonly not_understood: readonly string[];
}

/**
 * Fold all records of one batch.
 *
 * definitions  part definitions by the id of their publication; a mark is judged by the one it names
 */
export function foldTally(gathered: Gathered, definitions: ReadonlyMap<string, PartDefinition>): Tally {
  const classes = new Classes(definitions);
  const marks: Mark[] = [];
  const notUnderstood = gathered.notKnown.map(({ id }) => id);
  for (const [record, tallied] of gathered.of("defect_tallied")) {
    const weight = classes.of(tallied);
    if (weight === undefined) notUnderstood.push(record.id);
    else marks.push(markOf(record.id, tallied, weight, gathered.authors.of(record, tallied.body.tray)));
  }
  return {
    marks: marks.sort((left, right) => left.found_at - right.found_at || byId(left.id, right.id)),
    trays: traysOf(gathered),
    useless_withdrawals: [...gathered.useless].sort(byId),
    not_understood: notUnderstood.sort(byId),
  };
}

/** The marks that count: a quick repeat waits until somebody says it was two. */
export function counted(tally: Tally): readonly Mark[] {
  return tally.marks.filter((mark) => !mark.quick_repeat);
}

/** The class of each find by the definition it names; each word is worked out once in each zone. */
export class Classes {
  readonly #words: ReadonlyMap<string, ReadonlyMap<string, DefectWord>>;
  readonly #known = new Map<string, DefectClass>();

  constructor(definitions: ReadonlyMap<string, PartDefinition>) {
    // Where a list names a word twice the later line holds, as it does on the server.
    this.#words = new Map(
      [...definitions].map(([name, part]) => [
        name,
        new Map(part.defects.map((word) => [word.defect, word])),
      ]),
    );
  }

  /** The class of a find; undefined where its definition is not known. */
  of({ definition, body }: RecordOf<"defect_tallied">): DefectClass | undefined {
    const words = this.#words.get(definition);
    if (words === undefined) return undefined;
    const zone = body.zone ?? "";
    const name = `${definition} ${body.defect} ${zone}`;
    const found = this.#known.get(name) ?? classIn(words.get(body.defect), zone);
    this.#known.set(name, found);
    return found;
  }
}

/**
 * The class a word has where it was found.
 *
 * No zone given, or one the list does not name: the worst class the word has in any zone. A word whose class
 * nobody has set is critical.
 */
export function classIn(word: DefectWord | undefined, zone: string): DefectClass {
  if (word === undefined) return "critical";
  // Where a list names a zone twice the later line holds, as it does on the server.
  const byZone = new Map((word.by_zone ?? []).map((entry) => [entry.zone, entry.class]));
  const here = byZone.get(zone);
  if (here !== undefined) return here;
  const classes = new Set<DefectClass>(byZone.values());
  if (word.class !== undefined) classes.add(word.class);
  return WORST_FIRST.find((name) => classes.has(name)) ?? "critical";
}

function markOf(id: string, record: RecordOf<"defect_tallied">, weight: DefectClass, author: string): Mark {
  const { body } = record;
  const [found_at, time_doubtful] = foundAt(record);
  return {
    id,
    look: body.look,
    tray: body.tray,
    piece: body.piece ?? id,
    defect: body.defect,
    weight: body.defect === NOT_SURE ? "query" : weight,
    zone: body.zone ?? "",
    cavity: body.cavity ?? "",
    sign_on: record.sign_on,
    author,
    found_at,
    time_doubtful,
    quick_repeat: body.quick_repeat === true,
  };
}

function traysOf(gathered: Gathered): Tray[] {
  const closings = new Map<string, { id: string; said: string; isProven: boolean }[]>();
  for (const [record, { body }] of gathered.of("tray_closed")) {
    const ofTray = closings.get(body.tray) ?? [];
    ofTray.push({
      id: record.id,
      said: canonical(body),
      isProven: gathered.authors.of(record, body.tray) !== "",
    });
    closings.set(body.tray, ofTray);
  }
  const trays = gathered.of("tray_opened").map(([{ id }, { body }]): Tray => {
    const ofTray = closings.get(id) ?? [];
    return {
      id,
      look: body.look,
      number: body.number,
      places: body.places,
      closings: ofTray.map((closing) => closing.id),
      closings_differ: ofTray.some((closing) => closing.said !== ofTray[0]?.said),
      unproven: ofTray.flatMap(({ id: closing, isProven }) => (isProven ? [] : [closing])),
    };
  });
  return trays.sort(
    (left, right) => byText(left.look, right.look) || left.number - right.number || byId(left.id, right.id),
  );
}
