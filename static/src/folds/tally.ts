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
  type ReadRecord,
  type RecordOf,
} from "../records/kinds.js";

export type Weight = DefectClass | "query";

const WORST_FIRST: readonly DefectClass[] = ["critical", "major", "minor"];
/** A device's clock that is further out than this makes the time of its records doubtful. */
const LONGEST_SKEW_MS = 5 * 60 * 1000;

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
 * records      the batch's records, in any order; one that comes twice counts once
 * definitions  part definitions by the id of their publication; a mark is judged by the one it names
 * proven       persons by the sign-ons that were proven to be theirs
 */
export function foldTally(
  records: Iterable<ReadRecord>,
  definitions: ReadonlyMap<string, PartDefinition>,
  proven: ReadonlyMap<string, string> = new Map(),
): Tally {
  const known = new Map<string, ReadRecord>();
  for (const record of records) known.set(record.id, record);
  const { dead, useless } = withdrawn(known, proven);
  const standing = [...known.values()].filter((record) => !dead.has(record.id));
  const authors = new Authors(standing, proven);
  const marks: Mark[] = [];
  const notUnderstood: string[] = [];
  for (const record of standing) {
    const { id, known: tallied } = record;
    if (tallied === undefined) {
      notUnderstood.push(id);
    } else if (tallied.kind === "defect_tallied") {
      const definition = definitions.get(tallied.definition);
      if (definition === undefined) notUnderstood.push(id);
      else marks.push(markOf(id, tallied, definition, authors.of(record, tallied.body.tray)));
    }
  }
  return {
    marks: marks.sort((left, right) => left.found_at - right.found_at || byId(left.id, right.id)),
    trays: traysOf(standing, authors),
    useless_withdrawals: [...useless].sort(byId),
    not_understood: notUnderstood.sort(byId),
  };
}

/** The marks that count: a quick repeat waits until somebody says it was two. */
export function counted(tally: Tally): readonly Mark[] {
  return tally.marks.filter((mark) => !mark.quick_repeat);
}

/**
 * The ids that are dead for good, and the ids of withdrawals without effect.
 *
 * A withdrawal counts when it was made under the same sign-on as what it takes back, or when both sign-ons are
 * proven to be the same person's. Withdrawing a withdrawal does nothing, and a request cannot be taken back.
 */
export function withdrawn(
  known: ReadonlyMap<string, ReadRecord>,
  proven: ReadonlyMap<string, string>,
): {
  dead: Set<string>;
  useless: Set<string>;
} {
  const dead = new Set<string>();
  const useless = new Set<string>();
  for (const withdrawal of known.values()) {
    if (withdrawal.known?.kind !== "record_withdrawn") continue;
    const target = known.get(withdrawal.known.body.record);
    if (target !== undefined && canBeTakenBack(target) && isSameAuthor(target, withdrawal, proven))
      dead.add(target.id);
    else useless.add(withdrawal.id);
  }
  return { dead, useless };
}

function canBeTakenBack({ kind }: ReadRecord): boolean {
  return kind !== "record_withdrawn" && kind !== "request_seconded" && !kind.endsWith("_requested");
}

/** The sign-on a record was made under. One of another chain is nobody's here: any tablet could name it. */
export function authorOf(record: ReadRecord): string | undefined {
  return record.sign_on !== undefined && isOwn(record, record.sign_on) ? record.sign_on : undefined;
}

/**
 * True for an id of the record's own chain, or of the chain its admission stands in: the server admits no line that
 * names a sign-on of another chain, and what stands in the server's chain is the same chain's, admitted before.
 */
function isOwn(record: ReadRecord, name: string): boolean {
  const chain = name.split(":", 1)[0];
  return chain === record.chain || chain === record.id.split(":", 1)[0];
}

/**
 * Who stands behind what was done in a tray: proven by the PIN, or confirmed afterwards.
 *
 * A confirmation counts when its own author is proven, and when it was made on the tablet whose unproven sign-on it
 * names: nobody takes another tablet's work upon himself. Where two confirm, the first by id holds.
 */
export class Authors {
  readonly #confirmed = new Map<string, string>();
  readonly #proven: ReadonlyMap<string, string>;

  constructor(standing: readonly ReadRecord[], proven: ReadonlyMap<string, string>) {
    this.#proven = proven;
    const confirmations = standing.filter((record) => record.kind === "authorship_confirmed");
    for (const record of confirmations.sort((left, right) => byId(left.id, right.id))) {
      if (record.known?.kind !== "authorship_confirmed") continue;
      const { of_sign_on, tray } = record.known.body;
      const person = proven.get(authorOf(record) ?? "");
      const what = `${of_sign_on} ${tray}`;
      if (person === undefined || !isOwn(record, of_sign_on) || this.#confirmed.has(what)) continue;
      this.#confirmed.set(what, person);
    }
  }

  /** The person who made a record in a tray; '' where nobody is proven. */
  of(record: ReadRecord, tray: string): string {
    const signOn = authorOf(record) ?? "";
    return this.#proven.get(signOn) ?? this.#confirmed.get(`${signOn} ${tray}`) ?? "";
  }
}

export function isSameAuthor(
  one: ReadRecord,
  other: ReadRecord,
  proven: ReadonlyMap<string, string>,
): boolean {
  const first = authorOf(one);
  const second = authorOf(other);
  if (first === undefined || second === undefined) return false;
  const person = proven.get(first);
  return first === second || (person !== undefined && person === proven.get(second));
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

/** When a record was made in server time, and whether that is doubtful: no skew known, or over five minutes. */
export function foundAt(record: { readonly made_at: number; readonly skew_ms?: number }): [number, boolean] {
  const skew = record.skew_ms;
  if (skew === undefined) return [record.made_at, true];
  return [record.made_at + skew, Math.abs(skew) > LONGEST_SKEW_MS];
}

/** The order of ids: by chain, then by number as a number. */
export function byId(left: string, right: string): number {
  // Names of chains are of one length, and numbers have no leading zero: only a longer number needs more than text.
  const isOfOneChain = left.length !== right.length && left.startsWith(right.slice(0, right.indexOf(":") + 1));
  return isOfOneChain ? left.length - right.length : byText(left, right);
}

function markOf(
  id: string,
  record: RecordOf<"defect_tallied">,
  definition: PartDefinition,
  author: string,
): Mark {
  const { body } = record;
  const zone = body.zone ?? "";
  // Where a list names a word twice the later line holds, as it does on the server.
  const word = definition.defects.filter((entry) => entry.defect === body.defect).at(-1);
  const [found_at, time_doubtful] = foundAt(record);
  return {
    id,
    look: body.look,
    tray: body.tray,
    piece: body.piece ?? id,
    defect: body.defect,
    weight: body.defect === NOT_SURE ? "query" : classIn(word, zone),
    zone,
    cavity: body.cavity ?? "",
    sign_on: record.sign_on,
    author,
    found_at,
    time_doubtful,
    quick_repeat: body.quick_repeat === true,
  };
}

function traysOf(standing: readonly ReadRecord[], authors: Authors): Tray[] {
  const closings = new Map<string, { id: string; said: string; isProven: boolean }[]>();
  for (const record of standing) {
    if (record.known?.kind !== "tray_closed") continue;
    const { body } = record.known;
    const ofTray = closings.get(body.tray) ?? [];
    ofTray.push({ id: record.id, said: canonical(body), isProven: authors.of(record, body.tray) !== "" });
    closings.set(body.tray, ofTray);
  }
  const trays: Tray[] = [];
  for (const { id, known: record } of standing) {
    if (record?.kind !== "tray_opened") continue;
    const ofTray = closings.get(id) ?? [];
    trays.push({
      id,
      look: record.body.look,
      number: record.body.number,
      places: record.body.places,
      closings: ofTray.map((closing) => closing.id).sort(byId),
      closings_differ: ofTray.some((closing) => closing.said !== ofTray[0]?.said),
      unproven: ofTray.flatMap(({ id: closing, isProven }) => (isProven ? [] : [closing])).sort(byId),
    });
  }
  return trays.sort(
    (left, right) => byText(left.look, right.look) || left.number - right.number || byId(left.id, right.id),
  );
}

export function byText(left: string, right: string): number {
  return left === right ? 0 : left < right ? -1 : 1;
}
