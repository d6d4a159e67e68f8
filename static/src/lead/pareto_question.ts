// SPDX-License-Identifier: Apache-2.0
// What a lead asks of the Pareto: over which span, by what, counted how, and within which bars.
import type { ShiftDefinition } from "../records/kinds.js";
import { daysSpan, spanOf, type Span, type SpanName } from "./spans.js";

/** What bars can stand for, in the order of the keys. */
export const STRATA = [
  "defect",
  "operation",
  "cavity",
  "tool",
  "machine",
  "cast",
  "load",
  "lot",
  "zone",
  "tray",
  "tray_from_last",
  "look",
  "part",
  "batch",
] as const;
export type Stratum = (typeof STRATA)[number];
export type Unit = "marks" | "pieces";
/** Whether finds were found in the span, or made in it: while their batch was at the operation where they are born. */
export type Axis = "found" | "made";
export type Sort = "value" | "either" | "none";

/** One bar that the finds have to stand in; `label` is what people call it, and is no part of the question. */
export interface Only {
  readonly stratum: Stratum;
  readonly sort: Sort;
  readonly name: string;
  readonly label: string;
}

export interface Question {
  readonly span: SpanName | "days";
  /** First and last day as ISO texts, where the span is of days. */
  readonly days: readonly [string, string];
  readonly by: Stratum;
  readonly unit: Unit;
  readonly axis: Axis;
  readonly only: readonly Only[];
}

export const FIRST_QUESTION: Question = {
  span: "shift",
  days: ["", ""],
  by: "defect",
  unit: "marks",
  axis: "found",
  only: [],
};

/** Narrow a question to a bar of what it is by; to another bar of the same stratum in place of the first. */
export function narrowed(question: Question, bar: Omit<Only, "stratum">): Question {
  const others = question.only.filter(({ stratum }) => stratum !== question.by);
  return { ...question, only: [...others, { stratum: question.by, ...bar }] };
}

export function widened(question: Question, stratum: Stratum): Question {
  return { ...question, only: question.only.filter((one) => one.stratum !== stratum) };
}

/** The span in the site's zone; undefined while the days of one are not chosen, or stand the wrong way round. */
export function wantedSpan(
  { span, days }: Pick<Question, "span" | "days">,
  now: number,
  shifts: ShiftDefinition | undefined,
): Span | undefined {
  return span === "days" ? daysSpan(days[0], days[1], shifts) : spanOf(span, now, shifts);
}

/** The address of the report. Which shift is now the server says, by its own clock. */
export function addressOf({ span, by, unit, axis, only }: Question, wanted: Span): string {
  const query = new URLSearchParams();
  if (span !== "shift") {
    query.set("from", String(wanted.from));
    query.set("to", String(wanted.to));
  }
  query.set("by", by);
  query.set("unit", unit);
  query.set("axis", axis);
  for (const { stratum, sort, name } of only) {
    query.append("only", sort === "none" ? `${stratum}:none` : `${stratum}:${sort}:${name}`);
  }
  return `/pareto?${query.toString()}`;
}
