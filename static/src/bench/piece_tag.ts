// SPDX-License-Identifier: Apache-2.0
// What is written on the slip of a marked piece: the letters of the tablet that marked it first, and a number.
import type { ReadRecord } from "../records/kinds.js";

/** Tags by the id of the record that opened the piece; a piece that is not known here is called by its number. */
export function tagsIn(records: readonly ReadRecord[]): (piece: string) => string {
  const letters = new Map<string, string>();
  const byId = new Map<string, ReadRecord>();
  for (const record of records) {
    byId.set(record.id, record);
    if (record.known?.kind === "device_enrolled") letters.set(record.id, record.known.body.letters);
  }
  return (piece) => {
    // What was admitted bears another id, and keeps the number that was written on the slip.
    const opened = byId.get(piece);
    const number = opened?.n ?? piece.split(":").at(-1) ?? "";
    return `${letters.get(opened?.known?.device ?? "") ?? ""}${number}`;
  };
}
