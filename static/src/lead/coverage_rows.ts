// SPDX-License-Identifier: Apache-2.0
// Coverage, family by family: the zones that had no look, one, two and more, or of which it is not known.
import type { Coverage } from "../folds/coverage.js";

/** How many looks; not known where nobody wrote down behind which operation a look stands. */
export type Times = number | "unknown";

export interface CoverageRow {
  readonly family: string;
  readonly groups: readonly { readonly times: Times; readonly zones: readonly string[] }[];
}

/** Families in the order of the definition; of each the zones with the fewest looks first, '' for the whole piece. */
export function coverageRows(coverage: readonly Coverage[]): readonly CoverageRow[] {
  const families = new Map<string, Map<Times, string[]>>();
  for (const { family, zone, looks, unknown } of coverage) {
    const groups = families.get(family) ?? new Map<Times, string[]>();
    const times = unknown.length > 0 ? "unknown" : looks.length;
    groups.set(times, [...(groups.get(times) ?? []), zone]);
    families.set(family, groups);
  }
  const rank = (times: Times): number => (times === "unknown" ? 0.5 : times);
  return [...families].map(([family, groups]) => ({
    family,
    groups: [...groups]
      .map(([times, zones]) => ({ times, zones }))
      .sort((left, right) => rank(left.times) - rank(right.times)),
  }));
}
