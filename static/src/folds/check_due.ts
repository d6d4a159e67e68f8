// SPDX-License-Identifier: Apache-2.0
// Which checks are due next: by pieces made, by what happened, by the clock.
//
// The server's folds/check_due.py is the same function. Every line is worked out from all that happened at its
// operation, in the order of time; nothing is due that nobody wrote into the plan.
import type { CheckRule, CheckRole, KnownRecord, RecordOf } from "../records/kinds.js";
import type { Known } from "./check_outcome.js";

/** What opens a first-off as the start does: the next piece may be another than the one before. */
const OPENS_FIRST_OFF: readonly string[] = ["cavity", "die", "reheat", "shift", "stop", "tool"];
/** What forms the piece: with another one, the last piece of the one before is looked at as the last of all is. */
const OPENS_LAST_OFF: readonly string[] = ["cavity", "die", "tool"];
/** The plan by which whoever stopped takes a first-off anew once it is put right. */
const STOPPING_PLAN = "R1";
const MINUTE_MS = 60 * 1000;

/** Something that happened, in server time [ms]. */
export interface Moment {
  readonly at: number;
  readonly id: string;
  readonly known: KnownRecord;
}

/**
 * A check that is due, or when it will be.
 *
 * left     pieces still to be checked
 * at_made  it is due once so many pieces are made; 0 where it does not wait for pieces
 * at_time  it is due from this server time on; 0 where it does not wait for the clock   [ms]
 */
export interface Due {
  readonly operation: number;
  readonly characteristic: number;
  readonly role: CheckRole;
  readonly left: number;
  readonly at_made: number;
  readonly at_time: number;
}

/** True where a check is due at a moment; nothing waits for pieces that nobody counted. */
export function isDue(due: Due, made: number | "unknown", now: number): boolean {
  const waits = due.at_made > 0 && (made === "unknown" || made < due.at_made);
  return !waits && due.at_time <= now;
}

/** What is due or will be, in the order of the plan; `moments` in the order of time. */
export function dueChecks(moments: readonly Moment[], plan: Known): readonly Due[] {
  const at = new Map<number, Moment[]>();
  const checked = new Map<string, number>();
  for (const moment of moments) {
    const { known, id } = moment;
    if (!("operation" in known.body)) continue;
    at.set(known.body.operation, [...(at.get(known.body.operation) ?? []), moment]);
    if (known.kind === "check_taken") checked.set(id, known.body.characteristic);
  }
  const found: Due[] = [];
  for (const one of plan.values()) {
    const { operation, characteristic } = one;
    const here = at.get(operation) ?? [];
    const stops = here.filter(
      ({ known }) => known.kind === "reaction_taken" && checked.get(known.body.check) === characteristic,
    );
    const corrected = new Set(one.reaction === STOPPING_PLAN ? stops.map(({ id }) => id) : []);
    for (const role of ["first_off", "last_off"] as const) {
      const left = leftOf(here, characteristic, role, one[role], corrected);
      if (left > 0) found.push({ operation, characteristic, role, left, at_made: 0, at_time: 0 });
    }
    const between = inProcess(here, characteristic, one.in_process);
    if (between !== undefined) found.push({ operation, characteristic, role: "in_process", ...between });
  }
  return found;
}

/** How many pieces a first-off or a last-off still has to see. */
function leftOf(
  here: readonly Moment[],
  number: number,
  role: CheckRole,
  rule: CheckRule | undefined,
  corrected: ReadonlySet<string>,
): number {
  if (rule === undefined || rule.at === "logger") return 0;
  const wanted = wantedBy(rule);
  const events: readonly string[] = rule.events ?? [];
  // What is seen on every piece, or counted at the end, is no matter of one die.
  const isSample = role === "last_off" && rule.at === "events" && events.length === 0;
  let left = 0;
  let hasBegun = false;
  let hasEnded = false;
  for (const { id, known } of here) {
    if (known.kind === "operation_started" && known.body.look === undefined) {
      // What is checked once a cast or a load is not begun again by another crew.
      if (role === "first_off" && !(events.length > 0 && hasBegun)) left = wanted;
      hasBegun = true;
      hasEnded = false;
    } else if (known.kind === "operation_changed") {
      const { what } = known.body;
      const isEnd = role === "last_off" && what === "last_piece";
      const opensAnew = role === "first_off" && events.length === 0 && OPENS_FIRST_OFF.includes(what);
      // Where somebody told the last piece of the old one already, its last-offs are open or done.
      const isOld = isSample && OPENS_LAST_OFF.includes(what) && hasBegun;
      if (isEnd || opensAnew || events.includes(what) || (isOld && !hasEnded)) left = wanted;
      hasEnded = isEnd || (hasEnded && !isOld);
    } else if (known.kind === "operation_finished" && known.body.look === undefined && role === "last_off") {
      left = hasEnded ? left : wanted;
      hasEnded = true;
    } else if (corrected.has(id) && role === "first_off") {
      left = wanted;
    } else {
      left -= Math.min(left, answers(known, number, role));
    }
  }
  return left;
}

/** How many pieces of what a role asks for a record answers. */
function answers(known: KnownRecord, number: number, role: CheckRole): number {
  if (known.kind !== "check_taken" && known.kind !== "check_missed") return 0;
  return known.body.characteristic === number && known.body.role === role ? piecesOf(known) : 0;
}

/** Pieces a record answers for: one that repeats another is no new piece, one missed is all of them. */
function piecesOf(known: RecordOf<"check_taken"> | RecordOf<"check_missed">): number {
  if (known.kind === "check_missed") return Number.MAX_SAFE_INTEGER;
  return known.body.repeats === undefined ? (known.body.pieces ?? 1) : 0;
}

/** Checks that a rule asks for each time; what is looked at on every piece is answered once. */
function wantedBy(rule: CheckRule): number {
  return rule.at === "each_piece" ? 1 : (rule.pieces ?? 1) * (rule.places ?? 1);
}

/** What is left, at how many pieces, from when on; undefined where nothing is due or will be while it runs. */
function inProcess(
  here: readonly Moment[],
  number: number,
  rule: CheckRule | undefined,
): Pick<Due, "left" | "at_made" | "at_time"> | undefined {
  if (rule === undefined || rule.at === "each_piece" || rule.at === "logger") return undefined;
  const wanted = wantedBy(rule);
  const every = rule.every ?? 0;
  const running = new Set<string>();
  const ended = new Set<string>();
  let left = rule.at === "events" ? 0 : wanted;
  let base = 0;
  let since = 0;
  for (const { at, id, known } of here) {
    if (known.kind === "operation_started" && known.body.look === undefined) {
      running.add(id);
      since = since === 0 ? at : since;
    } else if (known.kind === "operation_finished") {
      ended.add(known.body.started);
    } else if (known.kind === "operation_changed" && rule.at === "events") {
      if ((rule.events ?? []).some((event) => event === known.body.what)) left = wanted;
    } else if (isOf(known, number, rule.at)) {
      left -= Math.min(left, piecesOf(known));
      if (left === 0 && rule.at !== "events") {
        // The next one counts from this one: never more pieces, or minutes, lie between two.
        left = wanted;
        since = at;
        // Where nobody knew how many were made, a check clears nothing: the clock stays where it was.
        base = Math.max(base, known.body.made ?? base);
      }
    }
  }
  const isRunning = [...running].some((stint) => !ended.has(stint));
  if (!isRunning || left === 0) return undefined;
  return {
    left,
    at_made: rule.at === "pieces" ? base + every : 0,
    at_time: rule.at === "minutes" ? since + every * MINUTE_MS : 0,
  };
}

/** True for a check of a characteristic, or word that one was missed. A first-off moves the clock on too. */
function isOf(
  known: KnownRecord,
  number: number,
  at: CheckRule["at"],
): known is RecordOf<"check_taken"> | RecordOf<"check_missed"> {
  if (known.kind === "check_missed")
    return known.body.characteristic === number && known.body.role === "in_process";
  if (known.kind !== "check_taken" || known.body.repeats !== undefined) return false;
  return known.body.characteristic === number && (known.body.role === "in_process" || at !== "events");
}
