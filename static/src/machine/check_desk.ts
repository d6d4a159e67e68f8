// SPDX-License-Identifier: Apache-2.0
// What lies before whoever runs an operation: the checks due now, those that come next, the pieces made.
import { isDue, type Due } from "../folds/check_due.js";
import { keyOf, type Known } from "../folds/check_outcome.js";
import { exposureAt, type Check, type Checks, type Made, type OperationPieces } from "../folds/checks.js";
import type { Characteristic } from "../records/kinds.js";

/** How a check is entered: a number on the pad, or one of two keys where no number exists. */
export type Entry = "number" | "go_not_go" | "yes_no";

/** A check and what it is of; `due` says how many pieces are left to check. */
export interface Asked {
  readonly due: Due;
  readonly characteristic: Characteristic;
}

export interface CheckDesk {
  readonly isRunning: boolean;
  /** Unknown too where the last number is too old to go by. */
  readonly made: Made;
  readonly now: readonly Asked[];
  /** What waits for pieces or for the clock, the next one first. */
  readonly later: readonly Asked[];
  /** The fewest pieces between two checks of the operation: what one key tells; 0 where nothing goes by pieces. */
  readonly usual: number;
}

/** The last piece of the old die lies there before the first of the new one, and nothing is made before that is good. */
const ROLES = ["last_off", "first_off", "in_process"];

export function checkDesk(checks: Checks, plan: Known, operation: number, moment: number): CheckDesk {
  const pieces = checks.operations.find((one) => one.operation === operation);
  const asked = checks.due.flatMap((due): Asked[] => {
    const characteristic = plan.get(keyOf(due));
    return due.operation === operation && characteristic !== undefined ? [{ due, characteristic }] : [];
  });
  const told = pieces === undefined || isAtStart(pieces) ? 0 : pieces.made;
  const isNow = ({ due }: Asked): boolean => isDue(due, told, moment);
  const made =
    pieces === undefined
      ? "unknown"
      : exposureAt({ operation, characteristic: 0, last_good: "", pieces: told }, pieces, moment);
  const intervals = [...plan.values()].flatMap((one) =>
    one.operation === operation && one.in_process?.at === "pieces" ? (one.in_process.every ?? []) : [],
  );
  return {
    usual: intervals.length === 0 ? 0 : Math.min(...intervals),
    isRunning: pieces?.is_running ?? false,
    made,
    now: asked
      .filter(isNow)
      .sort((left, right) => ROLES.indexOf(left.due.role) - ROLES.indexOf(right.due.role)),
    later: asked
      .filter((one) => !isNow(one))
      .sort((left, right) => left.due.at_made - right.due.at_made || left.due.at_time - right.due.at_time),
  };
}

/** Whoever begins has made none yet; after a while without a number that is as good as not known. */
function isAtStart({ made, is_running }: OperationPieces): boolean {
  return made === "unknown" && is_running;
}

/** Pieces made since the last good check of a characteristic, as far as anybody can know now. */
export function exposureOf(checks: Checks, characteristic: Characteristic, moment: number): Made {
  const { operation } = characteristic;
  const pieces = checks.operations.find((one) => one.operation === operation);
  const line = checks.exposures.find((one) => keyOf(one) === keyOf(characteristic));
  if (pieces === undefined || line === undefined) return "unknown";
  return exposureAt(isAtStart(pieces) ? { ...line, pieces: 0 } : line, pieces, moment);
}

export function entryOf({ kind, unit, lower, upper }: Characteristic): Entry {
  if (kind === "go_not_go") return "go_not_go";
  if (kind === "value" || kind === "count") return "number";
  const hasNumber = unit !== undefined || lower !== undefined || upper !== undefined;
  return kind === "process" && hasNumber ? "number" : "yes_no";
}

/** The last checks of a characteristic that gave a number, the newest last. */
export function lastValues(checks: Checks, characteristic: Characteristic, most: number): readonly Check[] {
  const key = keyOf(characteristic);
  return checks.checks.filter((one) => keyOf(one) === key && /[0-9]/.test(one.said)).slice(-most);
}
