// SPDX-License-Identifier: Apache-2.0
// A report that says how old it is. Without contact the last answer stands, dated, for whoever it was given to.
import type { Tablet } from "../sync/contract.js";
import { useReport } from "../widgets/report.js";
import { sayError } from "../words/errors.js";
import { age, moment } from "../words/measures.js";
import { say } from "../words/say.js";

export interface Dated<T> {
  readonly value: T | undefined;
  /** When the tablet heard it, by its own clock. */
  readonly heardAt: number;
  readonly problem: string | undefined;
}

/** In memory only: a closed page forgets it. */
const heard = new Map<string, { readonly value: unknown; readonly at: number }>();

/** turn, everyMs   as of a report that is asked for again and again */
export function useDated<T>(
  tablet: Tablet,
  path: string,
  from: (value: unknown) => T | undefined,
  turn = "",
  everyMs?: number,
): Dated<T> {
  const { value, problem } = useReport(tablet, path, from, turn, everyMs);
  const person = tablet.signOn.value?.person ?? "";
  const name = `${person} ${path}`;
  if (value !== undefined && problem === undefined && heard.get(name)?.value !== value) {
    heard.set(name, { value, at: Date.now() });
  }
  // What the server told one person is shown again to that person alone, and only if the PIN proved who it is.
  const kept = tablet.proven.value === "proven" ? heard.get(name) : undefined;
  return {
    value: value ?? (kept?.value as T | undefined),
    heardAt: heard.get(name)?.at ?? 0,
    problem,
  };
}

/** How old what stands below is, and why nothing newer came. */
export function HowOld({ report }: { readonly report: Dated<unknown> }) {
  const { value, heardAt, problem } = report;
  if (problem === undefined && value === undefined) return <p role="status">{say("dated.asking")}</p>;
  if (problem === undefined) return <p class="as-of">{say("holds.as_of", { when: moment(heardAt) })}</p>;
  if (value === undefined) {
    return (
      <p class="problem" role="alert">
        {sayError(problem)}
      </p>
    );
  }
  return (
    <p class="as-of is-old" role="status">
      {say("dated.old", { when: moment(heardAt), age: age(Date.now() - heardAt) })}{" "}
      {problem !== "no-answer" && sayError(problem)}
    </p>
  );
}
