// SPDX-License-Identifier: Apache-2.0
// A tablet at the bench that does what the two looks need, and the part its people judge by.
import type { PartDefinition, ReadRecord, RecordOf } from "../../../static/src/records/kinds.js";
import { BATCH, Bench, IDS, PART } from "./bench.js";

export const HOOK: PartDefinition = {
  subject: "part",
  part: "SK70",
  revision: "C",
  name: { en: "Spring hook" },
  tray_places: 60,
  looks: ["first", "second"],
  zones: [{ zone: "ear", words: { en: "ear" }, covered_after: 110 }],
  defects: [
    { defect: "crack", key: { en: "crack" }, words: { en: "crack" }, class: "critical" },
    { defect: "nick", key: { en: "nick" }, words: { en: "nick" }, class: "major" },
    { defect: "stain", key: { en: "stain" }, words: { en: "stain" }, class: "minor", first_seen_at: 130 },
  ],
  limits: [
    { look: "first", class: "critical", allowed_per_thousand: 0 },
    { look: "first", class: "major", allowed_per_thousand: 40 },
  ],
};

type Look = "first" | "second";
type Seen = RecordOf<"look_signed">["body"]["seen"];

/** Who is signed on at which tablet; the sign-on is always the second record. */
export const PEOPLE = { a: IDS.anna, b: IDS.ben, d: IDS.lea, e: IDS.leo } as const;
const OF = { batch: BATCH, definition: PART };

export class Tablet extends Bench {
  constructor(
    readonly letter: keyof typeof PEOPLE | "s",
    readonly look: Look = "first",
    skew = 0,
  ) {
    super(letter, skew);
    if (letter !== "s") this.signOn(PEOPLE[letter]);
  }

  openBatch(pieces: number): string {
    return this.add({ kind: "batch_opened", v: 1, body: { number: "SK70-1", pieces }, definition: PART });
  }

  /** Counted in before the look: cards as number and pieces. */
  count(cards: readonly (readonly [number, number])[], operation?: number): string {
    const pieces = cards.reduce((sum, [, one]) => sum + one, 0);
    const trays = cards.map(([number, one]) => ({ number, pieces: one }));
    const body = { look: this.look, pieces, trays, ...(operation === undefined ? {} : { operation }) };
    return this.add({ ...OF, kind: "pieces_counted", v: 1, body });
  }

  open(number: number, places: number): string {
    return this.add({ ...OF, kind: "tray_opened", v: 1, body: { look: this.look, number, places } });
  }

  mark(
    tray: string,
    defect: string,
    more: { piece?: string; round?: number; zone?: string; definition?: string } = {},
  ): string {
    const { definition = PART, ...rest } = more;
    const body = { look: this.look, tray, defect, ...rest };
    return this.add({ ...OF, definition, kind: "defect_tallied", v: 1, body });
  }

  close(
    tray: string,
    places: number,
    rejected = 0,
    more: { query?: number; rework?: number; empty?: number } = {},
  ): string {
    const { query = 0, rework = 0, empty = 0 } = more;
    const body = {
      look: this.look,
      tray,
      places,
      empty_counted: empty,
      accepted: places - empty - rejected - query - rework,
      rejected,
      rework,
      query,
      all_looked_at: true,
    } as const;
    return this.add({ ...OF, kind: "tray_closed", v: 1, body });
  }

  /** Open a tray, and close it without a find. */
  lookThrough(number: number, places: number): string {
    const tray = this.open(number, places);
    this.close(tray, places);
    return tray;
  }

  judge(
    piece: string,
    verdict: RecordOf<"piece_judged">["body"]["verdict"],
    more: { settles?: string[]; round?: number } = {},
  ): string {
    const body = { look: this.look, piece, verdict, ...more };
    return this.add({ ...OF, kind: "piece_judged", v: 1, body });
  }

  rework(what: "rework_sent" | "rework_returned", pieces: number): string {
    return this.add({ batch: BATCH, kind: what, v: 1, body: { look: this.look, pieces } });
  }

  split(pieces: number): string {
    return this.add({ batch: BATCH, kind: "batch_split", v: 1, body: { number: "SK70-1-B", pieces } });
  }

  foreign(tray: string): string {
    const body = { look: this.look, tray, pieces: 1 };
    return this.add({ batch: BATCH, kind: "foreign_piece_found", v: 1, body });
  }

  foundLate(): string {
    const body = { where: "under the bench", pieces: 1 };
    return this.add({ batch: BATCH, kind: "piece_found", v: 1, body });
  }

  leave(tray: string, place: number): string {
    const body = { look: this.look, tray, place };
    return this.add({ batch: BATCH, kind: "handover_given", v: 1, body });
  }

  takeOver(tray: string, given: string): string {
    const body = { look: this.look, tray, given };
    return this.add({ batch: BATCH, kind: "handover_taken", v: 1, body });
  }

  rest(): string {
    return this.add({ batch: BATCH, kind: "break_taken", v: 1, body: { look: this.look } });
  }

  sign(seen: Seen): string {
    return this.add({ batch: BATCH, kind: "look_signed", v: 1, body: { look: this.look, seen } });
  }

  askForVerdict(piece: string, verdict: "accept" | "rework" | "reject", seen: Seen): string {
    const body = { piece, look: this.look, verdict, seen };
    return this.add({ batch: BATCH, kind: "disposition_requested", v: 1, body });
  }

  askForAcceptance(difference: string, subject: string, amount: number): string {
    const body = { look: this.look, difference, subject, amount, seen: [], why: "searched" };
    return this.add({ batch: BATCH, kind: "difference_acceptance_requested", v: 1, body });
  }

  askForRelease(seen: Seen): string {
    return this.add({ batch: BATCH, kind: "release_requested", v: 1, body: { seen } });
  }

  crossLimit(): string {
    return this.add({ batch: BATCH, kind: "limit_crossed", v: 1, body: { look: "first", class: "major" } });
  }
}

/** How far the chains of some tablets go. */
export function seenOf(...tablets: readonly Tablet[]): Seen {
  return tablets.map(({ records }) => ({ chain: records[0]?.chain ?? "", n: records.length }));
}

/** What the folds of the batch are given: the records that name it, and the one that opened it. */
export function ofBatch(...tablets: readonly Tablet[]): ReadRecord[] {
  return tablets
    .flatMap(({ records }) => records)
    .filter((record) => record.batch === BATCH || record.kind === "batch_opened");
}
