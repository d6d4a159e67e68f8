// SPDX-License-Identifier: Apache-2.0
// What is written on the slip of a marked piece.
import type { ReadRecord } from "../records/kinds.js";

/**
 * The tag of a piece: letters of the device that found it and the number of the record that opened it; '' where the
 * record or the device's enrolment is not known here.
 *
 * own   chain and letters of this tablet, which knows them before its enrolment was fetched
 */
export function tagOf(
  piece: string,
  records: ReadonlyMap<string, ReadRecord>,
  own?: { readonly chain: string; readonly letters: string },
): string {
  const record = records.get(piece);
  if (record === undefined) return "";
  const enrolled = records.get(record.known?.device ?? "")?.known;
  const fetched = enrolled?.kind === "device_enrolled" ? enrolled.body.letters : "";
  const letters = fetched === "" && record.chain === own?.chain ? own.letters : fetched;
  return letters === "" ? "" : `${letters}${record.n}`;
}
