// SPDX-License-Identifier: Apache-2.0
// Numbers as gauges show them, compared exactly: no binary fraction stands between a limit and a reading.
//
// The server's records/decimal.py is the same function.

/** The most digits behind the point. */
const DIGITS = 9;

/** A number in the form of a record, as "13.20", as a whole number of billionths; its zeros say nothing here. */
export function billionths(shown: string): bigint {
  const [whole = "", fraction = ""] = shown.replace(/^-/, "").split(".");
  const size = BigInt(whole + fraction.padEnd(DIGITS, "0"));
  return shown.startsWith("-") ? -size : size;
}
