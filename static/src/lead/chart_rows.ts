// SPDX-License-Identifier: Apache-2.0
// Where the bars of a chart lie: beside their words where all of these are short, else below them, in as many lines
// as they need.

export const ROW_PX = 58;
export const LINE_PX = 30;
/** Beside the bars stand words of at most this many letters. */
const LONGEST_BESIDE = 18;
const BESIDE_PX = 300;
const EDGE_PX = 8;
/** No letter of the charts' text is wider on the average of a line. */
const LETTER_PX = 13.5;
const NARROWEST_BESIDE_PX = 560;

export interface Row {
  /** Of the words above the bar; none where they stand beside it. */
  readonly lines: readonly string[];
  readonly top: number;
  readonly height: number;
  readonly middle: number;
}

export interface Rows {
  /** Where the bars begin. */
  readonly left: number;
  readonly rows: readonly Row[];
  readonly bottom: number;
}

/** texts   words and value of each bar, as one text where they stand above it */
export function rowsOf(
  words: readonly string[],
  texts: readonly string[],
  width: number,
  from: number,
): Rows {
  const isBeside = width >= NARROWEST_BESIDE_PX && words.every(({ length }) => length <= LONGEST_BESIDE);
  const most = Math.max(1, Math.floor((width - 2 * EDGE_PX) / LETTER_PX));
  const rows: Row[] = [];
  let top = from;
  for (const text of texts) {
    const lines = isBeside ? [] : inLines(text, most);
    const above = lines.length * LINE_PX;
    rows.push({ lines, top, height: above + ROW_PX, middle: top + above + ROW_PX / 2 });
    top += above + ROW_PX;
  }
  return { left: isBeside ? BESIDE_PX : EDGE_PX, rows, bottom: top };
}

/** Words in lines of at most so many letters; a word that is longer by itself is parted. */
export function inLines(text: string, most: number): readonly string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    const together = line === "" ? word : `${line} ${word}`;
    if (together.length <= most) {
      line = together;
      continue;
    }
    if (line !== "") lines.push(line);
    let rest = word;
    for (; rest.length > most; rest = rest.slice(most)) lines.push(rest.slice(0, most));
    line = rest;
  }
  return [...lines, line];
}
