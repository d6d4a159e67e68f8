// SPDX-License-Identifier: Apache-2.0
// What one person entered in a closed tray, as far as it stands.
import { foundAt, withdrawn } from "../folds/gathered.js";
import type { Tally, Tray } from "../folds/tally.js";
import type { PartDefinition, ReadRecord } from "../records/kinds.js";
import { say } from "../words/say.js";
import type { ClosedEntry } from "./closed_tray.js";
import { judgedWord, wordOf, zoneName } from "./names.js";

export interface Whose {
  readonly person: string;
  /** The person behind a sign-on, proven or present. */
  readonly personOf: (signOn: string) => string | undefined;
  /** Persons by the sign-ons that were proven to be theirs. */
  readonly proven: ReadonlyMap<string, string>;
}

/** The entries in the order they were made: finds, judgements of pieces found here, and the closing. */
export function closedEntries(
  tray: Tray,
  tally: Tally,
  records: ReadonlyMap<string, ReadRecord>,
  definition: PartDefinition,
  { person, personOf, proven }: Whose,
): readonly ClosedEntry[] {
  const { dead } = withdrawn(records, proven);
  const marks = new Map(tally.marks.filter((mark) => mark.tray === tray.id).map((mark) => [mark.id, mark]));
  const pieces = new Set([...marks.values()].map((mark) => mark.piece));
  const isOwn = ({ sign_on }: ReadRecord): boolean => personOf(sign_on ?? "") === person;
  const takenBack = new Set(
    [...records.values()].flatMap((record) =>
      record.known?.kind === "record_withdrawn" && isOwn(record) ? [record.known.body.record] : [],
    ),
  );
  const entries = [...records.values()].flatMap((record): ClosedEntry[] => {
    const { id, known } = record;
    if (known === undefined || dead.has(id) || !isOwn(record)) return [];
    const of = { id, at: foundAt(known)[0], isTakenBack: takenBack.has(id) };
    if (known.kind === "defect_tallied") {
      const mark = marks.get(id);
      if (mark === undefined || mark.quick_repeat) return [];
      const where = mark.zone === "" ? "" : `, ${zoneName(definition, mark.zone)}`;
      return [
        { ...of, what: "find", says: `${wordOf(definition, mark.defect)}${where}`, shape: mark.weight },
      ];
    }
    if (known.kind === "piece_judged" && known.body.look === tray.look && pieces.has(known.body.piece))
      return [{ ...of, what: "judgement", says: judgedWord(known.body.verdict) }];
    if (known.kind === "tray_closed" && known.body.tray === tray.id)
      return [{ ...of, what: "closing", says: say("closed.closing") }];
    return [];
  });
  return entries.sort((one, other) => one.at - other.at);
}
