// SPDX-License-Identifier: Apache-2.0
// One value of a certificate against its limits, by the rounding method: what judge_certificate of the server's
// computation/material.py says of one element. tests/vectors/certificate holds both to the same answers.
//
// ISO 80000-1, annex B: the value is rounded to the decimals of the limit and then compared; on the limit is ok.

export type Verdict = "ok" | "above" | "below" | "missing" | "undecided";
export type Rounding = "half_even" | "half_up";

/** A value as printed, as digits and how many of them stand behind the point: no binary fraction lies between. */
interface Printed {
  readonly digits: bigint;
  readonly decimals: number;
}

/**
 * Judge a value as printed, '' where there is none; '<' says less than, and is undecided where that does not decide, as is a limit that is
 * missing at both ends.
 */
export function judgePrinted(
  value: string,
  low: string | undefined,
  high: string | undefined,
  rounding: Rounding,
): Verdict {
  if (low === undefined && high === undefined) return "undecided";
  if (value === "") return "missing";
  const isLess = value.startsWith("<");
  const printed = read(isLess ? value.slice(1) : value);
  if (high !== undefined && isAbove(printed, read(high), rounding)) return isLess ? "undecided" : "above";
  if (low === undefined) return "ok";
  const least = read(low);
  if (isLess) return compared(printed, least) > 0n ? "undecided" : "below";
  return rounded(printed, least.decimals, rounding) < least.digits ? "below" : "ok";
}

function isAbove(printed: Printed, most: Printed, rounding: Rounding): boolean {
  return rounded(printed, most.decimals, rounding) > most.digits;
}

function read(shown: string): Printed {
  const [whole = "", fraction = ""] = shown.split(".");
  return { digits: BigInt(whole + fraction), decimals: fraction.length };
}

/** Above 0n where one is the larger. */
function compared(one: Printed, other: Printed): bigint {
  return one.digits * 10n ** BigInt(other.decimals) - other.digits * 10n ** BigInt(one.decimals);
}

/** The digits of a number that is not negative at so many decimals. */
function rounded({ digits, decimals }: Printed, wanted: number, rounding: Rounding): bigint {
  if (decimals <= wanted) return digits * 10n ** BigInt(wanted - decimals);
  const unit = 10n ** BigInt(decimals - wanted);
  const below = digits / unit;
  const twice = (digits % unit) * 2n;
  const isUp = twice > unit || (twice === unit && (rounding === "half_up" || below % 2n === 1n));
  return isUp ? below + 1n : below;
}
