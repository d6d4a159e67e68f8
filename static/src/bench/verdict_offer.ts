// SPDX-License-Identifier: Apache-2.0
// What the finder may say of a piece with minor marks: a minor mark is a reject until he does.
import type { BenchState } from "../folds/bench.js";
import { counted } from "../folds/tally.js";
import type { PartDefinition } from "../records/kinds.js";

/**
 * A verdict that can be given with one tap.
 *
 * settles      the marks that weigh no more then
 * instruction  what the team's list says about rework; undefined where a word has none: then rework is not open
 */
export interface Offer {
  readonly piece: string;
  readonly settles: readonly string[];
  readonly instruction: string | undefined;
}

/** The offer for a piece at a look; only where all its marks are minor and were made under this sign-on. */
export function offerFor(
  { tally, verdicts }: Pick<BenchState, "tally" | "verdicts">,
  definition: PartDefinition,
  look: string,
  piece: string,
  signOn: string,
): Offer | undefined {
  const verdict = verdicts.find((one) => one.look === look && one.piece === piece);
  if (verdict?.verdict !== "reject") return undefined;
  const marks = counted(tally).filter((mark) => mark.look === look && mark.piece === piece);
  if (marks.some((mark) => mark.weight !== "minor" || mark.sign_on !== signOn)) return undefined;
  const notes = marks.map(({ defect }) => definition.defects.find((word) => word.defect === defect)?.rework);
  return {
    piece,
    settles: marks.map(({ id }) => id),
    instruction: notes.includes(undefined) ? undefined : [...new Set(notes)].join("; "),
  };
}
