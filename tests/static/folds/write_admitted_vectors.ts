// SPDX-License-Identifier: Apache-2.0
// Cases of admissions that both languages are held to: what an admitted line is unfolded to, and what the tally says
// then. The admissions are composed as the server writes them; the expectations are written down by hand.
import { BATCH, Bench, DEFINITION, IDS, PART } from "./bench.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";

export interface AdmittedVector {
  readonly name: string;
  readonly records: readonly string[];
  readonly definitions: Readonly<Record<string, typeof DEFINITION>>;
  readonly proven: Readonly<Record<string, string>>;
  /** What every record is once it is unfolded, in the order of `records`. */
  readonly unfolded: readonly object[];
  /** Of the tally: marks as [id, tray, piece, weight, sign_on, author], trays as [id, closings]. */
  readonly marks: readonly (readonly string[])[];
  readonly trays: readonly (readonly [string, readonly string[]])[];
  readonly useless_withdrawals: readonly string[];
}

const of = (letter: string, n: number): string => `${letter.repeat(26)}:${n}`;

/** The server's chain: what it admits bears the numbers from 2 on. */
class Server extends Bench {
  constructor() {
    super("s");
  }

  admit(record: ReadRecord, names: Readonly<Record<string, string>>): void {
    const look = record.known?.kind === "signed_on" ? {} : { look: "first" };
    this.add({
      ...(record.batch === undefined ? {} : { batch: record.batch }),
      kind: "set_aside_admitted",
      v: 1,
      body: {
        line: record.line,
        names: Object.entries(names).map(([was, now]) => ({ was, now })),
        ...look,
      },
    });
  }
}

function recordOf(bench: Bench, id: string): ReadRecord {
  const found = bench.records.find((record) => record.id === id);
  if (found === undefined) throw new Error(`no record ${id}`);
  return found;
}

/** A tablet that was revoked behind its sign-on: its tray of 3, a find, a second mark on the piece, the closing. */
function aWholeTray(): AdmittedVector {
  const lost = new Bench("a");
  lost.signOn(IDS.anna);
  const open = lost.openTray(4);
  const find = lost.find(open, "stain");
  const more = lost.find(open, "lap", { piece: find });
  const closed = lost.closeTray(open, 0, 1);
  const server = new Server();
  server.admit(recordOf(lost, open), {});
  server.admit(recordOf(lost, find), { [open]: of("s", 2) });
  server.admit(recordOf(lost, more), { [open]: of("s", 2), [find]: of("s", 3) });
  server.admit(recordOf(lost, closed), { [open]: of("s", 2) });
  const common = { chain: "a".repeat(26), sign_on: of("a", 2), batch: BATCH };
  return {
    name: "a whole tray that was set aside keeps its finds, its piece and its closing together",
    records: server.records.slice(1).map((record) => record.line),
    definitions: { [PART]: DEFINITION },
    proven: { [of("a", 2)]: IDS.anna },
    unfolded: [
      { ...common, id: of("s", 2), n: 3, kind: "tray_opened", body: { look: "first", number: 4, places: 6 } },
      {
        ...common,
        id: of("s", 3),
        n: 4,
        kind: "defect_tallied",
        body: { look: "first", tray: of("s", 2), defect: "stain" },
      },
      {
        ...common,
        id: of("s", 4),
        n: 5,
        kind: "defect_tallied",
        body: { look: "first", tray: of("s", 2), defect: "lap", piece: of("s", 3) },
      },
      {
        ...common,
        id: of("s", 5),
        n: 6,
        kind: "tray_closed",
        body: {
          look: "first",
          tray: of("s", 2),
          places: 6,
          empty_counted: 0,
          accepted: 5,
          rejected: 1,
          rework: 0,
          query: 0,
          all_looked_at: true,
        },
      },
    ],
    marks: [
      [of("s", 3), of("s", 2), of("s", 3), "minor", of("a", 2), IDS.anna],
      [of("s", 4), of("s", 2), of("s", 3), "critical", of("a", 2), IDS.anna],
    ],
    trays: [[of("s", 2), [of("s", 5)]]],
    useless_withdrawals: [],
  };
}

/** Two sides of a copied tablet after chain_opened: each signs somebody on under number 2, and marks under 3 and 4. */
function bothSidesOfACopy(): AdmittedVector {
  const [one, other] = [new Bench("a"), new Bench("a")];
  one.signOn(IDS.anna);
  const tray = one.openTray(4);
  one.find(tray, "stain");
  other.signOn(IDS.ben);
  const otherTray = other.openTray(5);
  const mark = other.find(otherTray, "stain");
  const undone = other.find(otherTray, "lap");
  const undoing = other.takeBack(undone);
  const server = new Server();
  const names = { [of("a", 2)]: of("s", 2), [otherTray]: of("s", 3) };
  server.admit(recordOf(other, of("a", 2)), {});
  server.admit(recordOf(other, otherTray), { [of("a", 2)]: of("s", 2) });
  server.admit(recordOf(other, mark), names);
  server.admit(recordOf(other, undone), names);
  server.admit(recordOf(other, undoing), { [of("a", 2)]: of("s", 2), [undone]: of("s", 5) });
  const admitted = { chain: "a".repeat(26), sign_on: of("s", 2), batch: BATCH };
  const own = { chain: "a".repeat(26), sign_on: of("a", 2), batch: BATCH };
  return {
    name: "both sides of a copied tablet count, each under its own sign-on and in its own tray",
    records: [...one.ofBatch(), ...server.records.slice(1)].map((record) => record.line),
    definitions: { [PART]: DEFINITION },
    proven: { [of("a", 2)]: IDS.anna },
    unfolded: [
      { ...own, id: of("a", 3), n: 3, kind: "tray_opened", body: { look: "first", number: 4, places: 6 } },
      {
        ...own,
        id: of("a", 4),
        n: 4,
        kind: "defect_tallied",
        body: { look: "first", tray: of("a", 3), defect: "stain" },
      },
      { chain: "a".repeat(26), id: of("s", 2), n: 2, kind: "signed_on", body: { person: IDS.ben } },
      {
        ...admitted,
        id: of("s", 3),
        n: 3,
        kind: "tray_opened",
        body: { look: "first", number: 5, places: 6 },
      },
      {
        ...admitted,
        id: of("s", 4),
        n: 4,
        kind: "defect_tallied",
        body: { look: "first", tray: of("s", 3), defect: "stain" },
      },
      {
        ...admitted,
        id: of("s", 5),
        n: 5,
        kind: "defect_tallied",
        body: { look: "first", tray: of("s", 3), defect: "lap" },
      },
      {
        ...admitted,
        id: of("s", 6),
        n: 6,
        kind: "record_withdrawn",
        body: { look: "first", record: of("s", 5) },
      },
    ],
    marks: [
      [of("a", 4), of("a", 3), of("a", 4), "minor", of("a", 2), IDS.anna],
      [of("s", 4), of("s", 3), of("s", 4), "minor", of("s", 2), ""],
    ],
    trays: [
      [of("a", 3), []],
      [of("s", 3), []],
    ],
    useless_withdrawals: [],
  };
}

export function vectors(): Readonly<Record<string, AdmittedVector>> {
  return { whole_tray: aWholeTray(), both_sides_of_a_copy: bothSidesOfACopy() };
}
