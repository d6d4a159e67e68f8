// SPDX-License-Identifier: Apache-2.0
// Where each defect word has its key. The places follow from the list and the number of columns alone, so a key
// never moves while a list is in use.
import { classesOf } from "./word_class.js";
import type { DefectWord } from "../records/kinds.js";

/** A place of the pad: a word's key, or nothing. */
export type Place = DefectWord | undefined;
export type Row = { readonly critical: boolean; readonly places: readonly Place[] };

/**
 * Lay out the keys: words that are critical wherever they are found in rows of their own, then the others, each
 * group in the team's order. A word gives way to the next one when it would come to lie beside or under its
 * look-alike, and leaves a gap where there is room for one.
 */
export function layKeys(words: readonly DefectWord[], columns: number): readonly Row[] {
  const alwaysCritical = (word: DefectWord): boolean => {
    const classes = classesOf(word);
    return classes.size === 1 && classes.has("critical");
  };
  const critical = fill(words.filter(alwaysCritical), columns, []);
  const others = fill(
    words.filter((word) => !alwaysCritical(word)),
    columns,
    critical.at(-1) ?? [],
  );
  return [
    ...critical.map((places) => ({ critical: true, places })),
    ...others.map((places) => ({ critical: false, places })),
  ];
}

/** True for a word that an eye can find, and that the team gave a key word. */
export function hasKey(word: DefectWord): boolean {
  return word.seen_by_eye !== "no" && Object.keys(word.key).length > 0;
}

/** The rows of one page where not all fit: whole rows, so that a critical row stays whole. */
export function pagesOf(rows: readonly Row[], rowsAtOnce: number): readonly (readonly Row[])[] {
  const pages: Row[][] = [];
  for (let first = 0; first < rows.length; first += Math.max(1, rowsAtOnce)) {
    pages.push(rows.slice(first, first + Math.max(1, rowsAtOnce)));
  }
  return pages.length === 0 ? [[]] : pages;
}

function fill(words: readonly DefectWord[], columns: number, above: readonly Place[]): Place[][] {
  const waiting = [...words];
  const rows: Place[][] = [];
  let spare = Math.ceil(waiting.length / columns) * columns - waiting.length;
  while (waiting.length > 0) {
    const row: Place[] = [];
    const upper = rows.at(-1) ?? above;
    while (row.length < columns && (waiting.length > 0 || spare > 0)) {
      const beside = [row.at(-1), upper[row.length]];
      const chosen = waiting.findIndex((word) => !beside.some((other) => lookAlike(word, other)));
      if (chosen < 0 && spare > 0) {
        spare -= 1;
        row.push(undefined);
      } else {
        row.push(...waiting.splice(Math.max(0, chosen), 1));
      }
    }
    rows.push(row);
  }
  return rows;
}

function lookAlike(word: DefectWord, other: Place): boolean {
  if (other === undefined) return false;
  return word.look_alike === other.defect || other.look_alike === word.defect;
}
