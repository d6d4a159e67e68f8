// SPDX-License-Identifier: Apache-2.0
// A report of the server, asked for every few seconds while somebody looks at it.
import { useEffect, useState } from "preact/hooks";
import type { Tablet } from "../sync/contract.js";

const ASKS_AGAIN_MS = 5_000;

export interface Report<T> {
  /** The newest answer that came; it stands while the next is asked for, and when that fails. */
  readonly value: T | undefined;
  /** Why the last one did not come, as a code of the catalogues. */
  readonly problem: string | undefined;
}

/**
 * A report, asked for again and again.
 *
 * from    holds an answer to its shape; the same function at every call
 * turn    another text asks at once
 * everyMs how long behind an answer the next question comes; longer where one costs the server more. What was not
 *         answered is asked for again as soon as any other report
 */
export function useReport<T>(
  tablet: Tablet,
  path: string,
  from: (value: unknown) => T | undefined,
  turn = "",
  everyMs = ASKS_AGAIN_MS,
): Report<T> {
  const [report, setReport] = useState<Report<T>>({ value: undefined, problem: undefined });
  useEffect(() => {
    let isCurrent = true;
    let answeredAt = 0;
    const read = async (): Promise<void> => {
      const answer = await tablet.read(path);
      if (!isCurrent) return;
      const value = answer.ok ? from(answer.value) : undefined;
      const problem = answer.ok ? "not-ours" : answer.code;
      answeredAt = value === undefined ? 0 : Date.now();
      setReport((before) => (value === undefined ? { ...before, problem } : { value, problem: undefined }));
    };
    void read();
    const timer = setInterval(
      () => {
        // A moment is left for the timer's own haste.
        if (Date.now() - answeredAt >= everyMs - ASKS_AGAIN_MS / 2) void read();
      },
      Math.min(everyMs, ASKS_AGAIN_MS),
    );
    return () => {
      isCurrent = false;
      clearInterval(timer);
    };
  }, [tablet, path, from, turn, everyMs]);
  return report;
}
