// SPDX-License-Identifier: Apache-2.0
// The verdict on each piece that somebody marked or judged: the worst of what weighs, look by look.
//
// The server's folds/verdicts.py is the same function; tests/vectors/bench holds both to the same answers. Nothing
// that is recorded makes a verdict milder than reject but the finder's own act and a granted disposition. A piece
// that nobody marked is not named here: its tray carries it.
import type { ReadRecord, RecordOf } from "../records/kinds.js";
import type { Holds } from "./holds.js";
import { Seen } from "./seen.js";
import { authorOf, byId, byText, isSameAuthor, pushTo, type Gathered, type Known } from "./gathered.js";
import { counted, type Mark, type Tally, type Weight as MarkWeight } from "./tally.js";

export type Verdict = "accept" | "rework" | "query" | "reject" | "locked";
const MILD_FIRST: readonly Verdict[] = ["accept", "rework", "query", "reject", "locked"];
export const WORST_MARK_FIRST: readonly MarkWeight[] = ["critical", "major", "minor", "query"];

/**
 * One piece at one look, as its newest round leaves it.
 *
 * tray          where it was marked first; '' for a piece that was only judged
 * round         1, and one more for each time it was looked at behind a rework
 * main_defect   the defect word of its worst mark, of these the first; '' without a mark
 * worst         the worst class of its marks in any round, not-sure ones left out; '' without one
 * open_queries  what waits to be settled
 * differ        judgements of this round by people who do not agree; the worst of them counts
 * locked_by     holds that stand
 */
export interface PieceVerdict {
  readonly look: string;
  readonly piece: string;
  readonly tray: string;
  readonly round: number;
  readonly verdict: Verdict;
  readonly main_defect: string;
  readonly worst: MarkWeight | "";
  readonly open_queries: readonly string[];
  readonly differ: readonly string[];
  readonly locked_by: readonly string[];
}

/** What one record weighs in one round of a piece. `judged_by` is '' for a mark. */
interface Weight {
  readonly id: string;
  readonly verdict: Verdict;
  readonly judged_by: string;
}

/** A granted verdict: it stands in the place of what its asker had seen. */
interface Disposition {
  readonly grant: string;
  readonly verdict: Verdict;
  readonly seen: Seen;
}

/** What is weighed of one piece at one look; rounds by their number. */
interface Place {
  readonly look: string;
  readonly piece: string;
  tray: string;
  readonly rounds: Map<number, Weight[]>;
  readonly marks: Mark[];
  readonly locks: string[];
}

/** Fold all records of one batch; by look and piece. */
export function foldVerdicts(gathered: Gathered, tally: Tally, holds: Holds): readonly PieceVerdict[] {
  const scales = new Scales(gathered, tally);
  for (const { id, piece, look, lifted_by } of holds.holds) {
    if (piece === "" || lifted_by !== "") continue;
    const places =
      look === ""
        ? [...scales.places.values()].filter((place) => place.piece === piece && place.rounds.size > 0)
        : [scales.at(look, piece)];
    for (const place of places) place.locks.push(id);
  }
  for (const mark of counted(tally)) scales.at(mark.look, mark.piece).marks.push(mark);
  const dispositions = dispositionsOf(gathered.known);
  return [...scales.places.values()]
    .sort((left, right) => byText(left.look, right.look) || byId(left.piece, right.piece))
    .map((place) => verdictOf(place, dispositions.get(`${place.look} ${place.piece}`) ?? []));
}

/** What weighs, by place and round; and the tray of each piece. */
class Scales {
  readonly places = new Map<string, Place>();
  readonly #gathered: Gathered;
  readonly #closings = new Map<string, ReadRecord[]>();
  readonly #settles = new Map<string, Known<"piece_judged">[]>();

  constructor(gathered: Gathered, tally: Tally) {
    this.#gathered = gathered;
    for (const [record, { body }] of gathered.of("tray_closed")) pushTo(this.#closings, body.tray, record);
    for (const judgement of gathered.of("piece_judged"))
      for (const name of judgement[1].body.settles ?? []) pushTo(this.#settles, name, judgement);
    for (const { id, weight } of counted(tally)) {
      const record = gathered.known.get(id);
      if (record?.known?.kind === "defect_tallied") this.#weighMark(record, record.known, weight);
    }
    this.#weighTakenBack();
    for (const [record, { body }] of gathered.of("piece_judged")) {
      const { look, piece, verdict, round } = body;
      const place = this.at(look, piece);
      const judged_by = gathered.authors.of(record, place.tray) || (authorOf(record) ?? "");
      pushTo(place.rounds, round ?? 1, { id: record.id, verdict, judged_by });
    }
  }

  at(look: string, piece: string): Place {
    const name = `${look} ${piece}`;
    let place = this.places.get(name);
    if (place === undefined) {
      place = { look, piece, tray: "", rounds: new Map(), marks: [], locks: [] };
      this.places.set(name, place);
    }
    return place;
  }

  /** A minor mark is a reject until its finder says otherwise; a not-sure one until somebody else does. */
  #weighMark(record: ReadRecord, mark: RecordOf<"defect_tallied">, weight: MarkWeight): void {
    let verdict: Verdict = "reject";
    const own = this.#settling(record, mark).filter((one) =>
      isSameAuthor(record, one, this.#gathered.proven),
    );
    if (weight === "minor" && own.some((one) => this.#isInTime(mark.body.tray, one))) verdict = "accept";
    else if (weight === "query" || (weight === "minor" && own.length > 0))
      verdict = this.#openOrSettled(record, mark);
    this.#put(record, mark, verdict);
  }

  /** A mark taken back when its tray was closed already leaves its piece in query. */
  #weighTakenBack(): void {
    const { known, dead, proven } = this.#gathered;
    const withdrawals = new Map<string, ReadRecord[]>();
    for (const record of known.values()) {
      if (record.known?.kind !== "record_withdrawn" || !dead.has(record.known.body.record)) continue;
      const target = known.get(record.known.body.record);
      if (target !== undefined && isSameAuthor(target, record, proven))
        pushTo(withdrawals, target.id, record);
    }
    for (const name of [...withdrawals.keys()].sort(byId)) {
      const record = known.get(name);
      const mark = record?.known;
      if (record === undefined || mark?.kind !== "defect_tallied" || mark.body.quick_repeat === true)
        continue;
      if (withdrawals.get(name)?.some((one) => this.#isInTime(mark.body.tray, one)) !== true)
        this.#put(record, mark, this.#openOrSettled(record, mark));
    }
  }

  /** The judgements of the mark's own piece and look that name it. */
  #settling({ id }: ReadRecord, { body }: RecordOf<"defect_tallied">): ReadRecord[] {
    return (this.#settles.get(id) ?? [])
      .filter(([, judged]) => judged.body.look === body.look && judged.body.piece === (body.piece ?? id))
      .map(([record]) => record);
  }

  /** Weighs no more once somebody else, proven or confirmed in the mark's tray, named the mark as settled. */
  #openOrSettled(record: ReadRecord, mark: RecordOf<"defect_tallied">): Verdict {
    const isSettled = this.#settling(record, mark).some(
      (one) =>
        this.#gathered.authors.of(one, mark.body.tray) !== "" &&
        !isSameAuthor(record, one, this.#gathered.proven),
    );
    return isSettled ? "accept" : "query";
  }

  /** True when the tray stands open, or was closed by the same tablet behind the record: it had seen it. */
  #isInTime(tray: string, { chain, n }: ReadRecord): boolean {
    const closings = this.#closings.get(tray) ?? [];
    return closings.length === 0 || closings.some((one) => one.chain === chain && one.n > n);
  }

  #put({ id }: ReadRecord, { body }: RecordOf<"defect_tallied">, verdict: Verdict): void {
    const place = this.at(body.look, body.piece ?? id);
    if (place.tray === "") place.tray = body.tray;
    pushTo(place.rounds, body.round ?? 1, { id, verdict, judged_by: "" });
  }
}

/** The granted dispositions by place; one whose grant another had seen is superseded by it. */
function dispositionsOf(known: ReadonlyMap<string, ReadRecord>): Map<string, Disposition[]> {
  const found = new Map<string, Map<string, Disposition>>();
  for (const [grant, { known: answer }] of known) {
    if (answer?.kind !== "request_granted") continue;
    const asked = known.get(answer.body.request)?.known;
    if (asked?.kind !== "disposition_requested") continue;
    const { look, piece, verdict, seen } = asked.body;
    const here = found.get(`${look} ${piece}`) ?? new Map<string, Disposition>();
    if (!here.has(answer.body.request))
      here.set(answer.body.request, { grant, verdict, seen: new Seen(seen) });
    found.set(`${look} ${piece}`, here);
  }
  return new Map([...found].map(([place, granted]) => [place, inForce([...granted.values()])]));
}

function inForce(granted: readonly Disposition[]): Disposition[] {
  return granted.filter((one) => !granted.some((other) => other.seen.covers(one.grant)));
}

function verdictOf(place: Place, dispositions: readonly Disposition[]): PieceVerdict {
  const { look, piece, tray, rounds, marks, locks } = place;
  const newest = Math.max(...(rounds.size === 0 ? [1] : rounds.keys()));
  const all = rounds.get(newest) ?? [];
  const left = all.filter(({ id }) => !dispositions.some(({ seen }) => seen.covers(id)));
  // A disposition is about the rounds its asker had seen something of.
  const decided = dispositions.filter(({ seen }) => all.some(({ id }) => seen.covers(id)));
  const weights = [...left, ...decided].map(({ verdict }) => MILD_FIRST.indexOf(verdict));
  if (locks.length > 0) weights.push(MILD_FIRST.indexOf("locked"));
  const judged = left.filter(({ judged_by }) => judged_by !== "");
  const disagree = judged.some((one) =>
    judged.some((other) => one.judged_by !== other.judged_by && one.verdict !== other.verdict),
  );
  // The tally stands by time: the first of the worst is the main one.
  const worst = WORST_MARK_FIRST.find((weight) => marks.some((mark) => mark.weight === weight));
  return {
    look,
    piece,
    tray,
    round: newest,
    verdict: MILD_FIRST[Math.max(0, ...weights)] ?? "accept",
    main_defect: marks.find((mark) => mark.weight === worst)?.defect ?? "",
    worst: worst === undefined || worst === "query" ? "" : worst,
    open_queries: idsOf(left.filter(({ verdict }) => verdict === "query")),
    differ: disagree ? idsOf(judged) : [],
    locked_by: [...locks].sort(byId),
  };
}

function idsOf(weights: readonly Weight[]): string[] {
  return weights.map(({ id }) => id).sort(byId);
}
