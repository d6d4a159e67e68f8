// SPDX-License-Identifier: Apache-2.0
// The shapes of the classes: tally strokes. One stroke, two strokes, three struck through; an open ring where
// nobody is sure, a dashed outline where the place on the piece decides. They say
// the same as the word beside them and stand without colour.
import type { Weight } from "../folds/tally.js";

export type MarkShape = Weight | "by_zone";

const STROKES: Readonly<Record<MarkShape, string>> = {
  minor: "M14 4V24",
  major: "M9 4V24M19 4V24",
  critical: "M7 4V24M14 4V24M21 4V24M2 20L26 8",
  query: "M22.5 8.5A10 10 0 1 1 14 4",
  by_zone: "M4 9V4H9M19 4H24V9M24 19V24H19M9 24H4V19M14 11V17M11 14H17",
};

export function ClassMark({ shape }: { readonly shape: MarkShape }) {
  return (
    <svg class={`class-mark of-${shape}`} viewBox="0 0 28 28" aria-hidden="true">
      <path d={STROKES[shape]} fill="none" />
    </svg>
  );
}
