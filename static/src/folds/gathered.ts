// SPDX-License-Identifier: Apache-2.0
// The records of one batch as its folds read them: each once, by id, with what was taken back and whose they are.
//
// The server's folds/gathered.py is the same. Worked out once for all folds of a batch: each tap folds it anew.
import type { Kind, ReadRecord, RecordOf } from "../records/kinds.js";

/** A device's clock that is further out than this makes the time of its records doubtful. */
const LONGEST_SKEW_MS = 5 * 60 * 1000;

/** A record beside what its kind says; the first has the id it counts under. */
export type Known<K extends Kind> = readonly [ReadRecord, RecordOf<K>];

/** All records of one batch, in any order; one that comes twice counts once. */
export class Gathered {
  /** By id, in the order of ids. */
  readonly known: ReadonlyMap<string, ReadRecord>;
  /** Ids of what was taken back for good. */
  readonly dead: ReadonlySet<string>;
  /** Ids of withdrawals without effect. */
  readonly useless: ReadonlySet<string>;
  /** What was not taken back, in the order of ids. */
  readonly standing: readonly ReadRecord[];
  /** Who stands behind what was done in a tray. */
  readonly authors: Authors;
  readonly #ofKind = new Map<Kind | undefined, (readonly [ReadRecord, unknown])[]>();

  /**
   * proven  persons by the sign-ons that were proven to be theirs
   */
  constructor(
    records: Iterable<ReadRecord>,
    readonly proven: ReadonlyMap<string, string> = new Map(),
  ) {
    const inOrder = [...records].sort((left, right) => byId(left.id, right.id));
    this.known = new Map(inOrder.map((record) => [record.id, record]));
    const { dead, useless } = withdrawn(this.known, proven);
    this.dead = dead;
    this.useless = useless;
    this.standing = [...this.known.values()].filter((record) => !dead.has(record.id));
    for (const record of this.standing) pushTo(this.#ofKind, record.known?.kind, [record, record.known]);
    this.authors = new Authors(this.of("authorship_confirmed"), proven);
  }

  /** The standing records of a kind, in the order of ids. */
  of<K extends Kind>(kind: K): readonly Known<K>[] {
    return (this.#ofKind.get(kind) ?? []) as unknown as readonly Known<K>[];
  }

  /** The standing records of a kind or version that is not known here. */
  get notKnown(): readonly ReadRecord[] {
    return (this.#ofKind.get(undefined) ?? []).map(([record]) => record);
  }
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

  constructor(confirmations: readonly Known<"authorship_confirmed">[], proven: ReadonlyMap<string, string>) {
    this.#proven = proven;
    for (const [record, { body }] of confirmations) {
      const { of_sign_on, tray } = body;
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

/** When a record was made in server time, and whether that is doubtful: no skew known, or over five minutes. */
export function foundAt(record: { readonly made_at: number; readonly skew_ms?: number }): [number, boolean] {
  const skew = record.skew_ms;
  if (skew === undefined) return [record.made_at, true];
  return [record.made_at + skew, Math.abs(skew) > LONGEST_SKEW_MS];
}

/** The order of ids: by chain, then by number as a number. */
export function byId(left: string, right: string): number {
  // Names of chains are of one length, and numbers have no leading zero: only a longer number needs more than text.
  const isOfOneChain =
    left.length !== right.length && left.startsWith(right.slice(0, right.indexOf(":") + 1));
  return isOfOneChain ? left.length - right.length : byText(left, right);
}

export function byText(left: string, right: string): number {
  return left === right ? 0 : left < right ? -1 : 1;
}

/** Put a value behind the others of its name. */
export function pushTo<K, V>(lists: Map<K, V[]>, name: K, value: V): void {
  const list = lists.get(name);
  if (list === undefined) lists.set(name, [value]);
  else list.push(value);
}
