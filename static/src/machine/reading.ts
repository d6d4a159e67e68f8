// SPDX-License-Identifier: Apache-2.0
// A reading as it comes in: typed whole, as steps of the gauge's last digit from the nominal, or sent by the gauge.
import { billionths } from "../records/decimal.js";
import type { Characteristic } from "../records/kinds.js";
import { decimal } from "../records/values.js";

export type Entered = "typed" | "steps" | "gauge";

/** A number as a record holds it, and how it came in. */
export interface Reading {
  readonly value: string;
  readonly entered: Entered;
}

const DIGITS = 9;
const STEPS = /^[+-][0-9]{1,4}$/;

/** True for a number as a record holds it; typed with the language's own comma it reads the same. */
export function isNumber(typed: string): boolean {
  return decimal(typed) === undefined;
}

function digitsOf(shown: string): number {
  return shown.split(".")[1]?.length ?? 0;
}

/** One step of the last digit that the plan's own numbers are written with, as "0.01". */
export function stepOf({ nominal, lower, upper }: Characteristic): string {
  const shown = [nominal, lower, upper].filter((one): one is string => one !== undefined && isNumber(one));
  return written(1n, Math.max(0, ...shown.map(digitsOf)));
}

/** A sign means steps where there is a nominal to count from, and no value of its own could begin with it. */
export function takesSteps({ nominal, lower }: Characteristic): boolean {
  return nominal !== undefined && isNumber(nominal) && lower?.startsWith("-") !== true;
}

/** What stands in the field in full; undefined while it is no number yet. */
export function readingOf(typed: string, characteristic: Characteristic, step: string): Reading | undefined {
  if (takesSteps(characteristic) && /^[+-]/.test(typed)) {
    if (!STEPS.test(typed)) return undefined;
    const nominal = characteristic.nominal ?? "";
    const digits = Math.max(digitsOf(nominal), digitsOf(step));
    const sum = billionths(nominal) + BigInt(typed.replace("+", "")) * billionths(step);
    return { value: written(sum / 10n ** BigInt(DIGITS - digits), digits), entered: "steps" };
  }
  return isNumber(typed) ? { value: typed, entered: "typed" } : undefined;
}

/** A whole number of the last digit, with its point. */
function written(count: bigint, digits: number): string {
  const text = String(count < 0n ? -count : count).padStart(digits + 1, "0");
  const whole = text.slice(0, text.length - digits);
  return `${count < 0n ? "-" : ""}${whole}${digits === 0 ? "" : `.${text.slice(-digits)}`}`;
}

/** What a gauge that types like a keyboard sent: its number as it shows it, and its unit where it says one. */
export function sentBy(text: string): { readonly value: string; readonly unit: string } | undefined {
  const found = /^\s*([+-]?)\s*0*([0-9]+(?:[.,][0-9]+)?)\s*([a-zA-Z°]{0,4})\s*$/.exec(text);
  if (found === null) return undefined;
  const [, sign = "", size = "", unit = ""] = found;
  const value = `${sign === "-" ? "-" : ""}${size.replace(",", ".")}`;
  return isNumber(value) ? { value, unit } : undefined;
}

/** What a key adds to what was typed: one sign in front, one point, no zero before another digit. */
export function typedOn(typed: string, key: string): string {
  if (key === "+" || key === "-") {
    const bare = typed.replace(/^[+-]/, "");
    return typed.startsWith(key) ? bare : key + bare;
  }
  if (key === ".") return /[0-9]$/.test(typed) && !typed.includes(".") ? `${typed}.` : typed;
  if (typed.replace(/\D/g, "").length >= DIGITS) return typed;
  return /^[+-]?0$/.test(typed) ? typed.replace("0", key) : typed + key;
}

/** What a keyboard put into the field, without what no number has. */
export function cleaned(text: string): string {
  return text.replace(",", ".").replace(/[^-+0-9.]/g, "");
}
