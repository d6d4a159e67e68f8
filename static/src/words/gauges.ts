// SPDX-License-Identifier: Apache-2.0
// How a gauge stands, for whoever measures and for the lead alike.
import type { Standing } from "../folds/gauges.js";
import type { Key } from "./say.js";

const STANDINGS = {
  in_order: "gauge.in_order",
  overdue: "gauge.overdue",
  wrong_kind: "gauge.wrong_kind",
  not_known: "gauge.not_known",
  doubtful: "gauge.doubtful",
  found_wrong: "gauge.found_wrong",
} as const satisfies Readonly<Record<Standing, Key>>;

type StandingWord = (typeof STANDINGS)[Standing];

export function standingWord(standing: Standing): StandingWord;
/** What a newer server may say and this version does not know has no words here. */
export function standingWord(standing: string): StandingWord | undefined;
export function standingWord(standing: string): StandingWord | undefined {
  return Object.hasOwn(STANDINGS, standing) ? STANDINGS[standing as Standing] : undefined;
}
