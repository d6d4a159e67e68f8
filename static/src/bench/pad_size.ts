// SPDX-License-Identifier: Apache-2.0
// How many keys a screen holds without a scroll. A key is at least 20 mm high and 30 mm wide at 160 px to the
// inch; where the whole list does not fit at that size, the pad turns pages and the keys stay as large.

export const KEY_WIDTH_PX = 189;
export const KEY_HEIGHT_PX = 126;
export const KEY_GAP_PX = 19;

export interface PadSize {
  /** wide and tall are the two ways a tablet stands; small is every screen that holds less than a tablet. */
  readonly shape: "wide" | "tall" | "small";
  readonly columns: number;
  readonly rowsAtOnce: number;
}

/** What the screen needs around the pad, by shape [px]: the bars, the answer strip, the gaps between them. */
const WIDE = { width: 1180, height: 724, columns: 4, rows: 3 };
const TALL = { width: 740, height: 1204, columns: 3, rows: 5 };
const AROUND_SMALL_PX = 272;
/** On a narrow screen the keys beside the pad take a second row. */
const NARROW = { width: 620, more: 68 };
const MARGIN_PX = 32;

export function padSize(width: number, height: number): PadSize {
  if (width >= WIDE.width && height >= WIDE.height) {
    return { shape: "wide", columns: WIDE.columns, rowsAtOnce: rowsIn(height - WIDE.height, WIDE.rows) };
  }
  if (width >= TALL.width && height >= TALL.height) {
    return { shape: "tall", columns: TALL.columns, rowsAtOnce: rowsIn(height - TALL.height, TALL.rows) };
  }
  const columns = Math.floor((width - MARGIN_PX + KEY_GAP_PX) / (KEY_WIDTH_PX + KEY_GAP_PX));
  const around = AROUND_SMALL_PX + (width < NARROW.width ? NARROW.more : 0);
  const rows = Math.floor((height - around + KEY_GAP_PX) / (KEY_HEIGHT_PX + KEY_GAP_PX));
  return { shape: "small", columns: between(1, columns, 4), rowsAtOnce: between(1, rows, 5) };
}

/** A larger screen than a tablet holds more rows at once. */
function rowsIn(spare: number, rows: number): number {
  return rows + Math.floor(spare / (KEY_HEIGHT_PX + KEY_GAP_PX));
}

function between(least: number, value: number, most: number): number {
  return Math.min(most, Math.max(least, value));
}
