// SPDX-License-Identifier: Apache-2.0
// What one check says of its characteristic. The server's folds/check_outcome.py is the same function.
import { billionths } from "../records/decimal.js";
import type { Characteristic, PartDefinition, RecordOf } from "../records/kinds.js";

/** no_limit: there is nothing to hold the value to. unjudged: nobody can say, the definition is missing. */
export type Outcome = "good" | "out" | "no_limit" | "unjudged";

/** Plans that hold the batch until a lead has decided. */
const HOLDING_PLANS: readonly string[] = ["R3", "R4"];

/** Characteristics by operation and number, as "40 4". */
export type Known = ReadonlyMap<string, Characteristic>;

type CheckTaken = RecordOf<"check_taken">["body"];

export function keyOf(one: { readonly operation: number; readonly characteristic: number }): string {
  return `${one.operation} ${one.characteristic}`;
}

/** A part's characteristics by operation and number; of one that is named twice the later holds. */
export function characteristicsOf(part: PartDefinition | undefined): Known {
  return new Map((part?.characteristics ?? []).map((one) => [keyOf(one), one]));
}

/** Whether a check is within its limits: on the line is inside. */
export function outcomeOf(check: CheckTaken, characteristic: Characteristic | undefined): Outcome {
  if (check.result !== undefined) return check.result === "go" || check.result === "yes" ? "good" : "out";
  if (characteristic === undefined || check.value === undefined) return "unjudged";
  const { lower, upper } = characteristic;
  if (lower === undefined && upper === undefined) return "no_limit";
  const value = billionths(check.value);
  const isLow = lower !== undefined && value < billionths(lower);
  const isHigh = upper !== undefined && value > billionths(upper);
  return isLow || isHigh ? "out" : "good";
}

/** True for a check out of its limits whose plan says that nothing goes on before a lead has decided. */
export function holds(check: CheckTaken, characteristic: Characteristic | undefined): boolean {
  if (!HOLDING_PLANS.includes(characteristic?.reaction ?? "")) return false;
  return outcomeOf(check, characteristic) === "out";
}
