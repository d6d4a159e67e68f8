// SPDX-License-Identifier: Apache-2.0
// Cases of the tally that both languages are held to. The records are composed; every expectation is written
// down by hand, because a fold that wrote its own expectation would agree with itself.
import type { PartDefinition, ReadRecord } from "../../../static/src/records/kinds.js";
import { Bench, BATCH, DEFINITION, IDS, PART, START } from "./bench.js";

export interface Vector {
  readonly name: string;
  readonly records: readonly string[];
  readonly definitions: Readonly<Record<string, PartDefinition>>;
  /** Persons by the sign-ons that were proven. */
  readonly proven: Readonly<Record<string, string>>;
  readonly expect: object;
}

const A_DAY = 24 * 60 * 60 * 1000;

export const of = (letter: string, n: number): string => `${letter.repeat(26)}:${n}`;

export function vector(
  name: string,
  records: readonly ReadRecord[],
  expect: object,
  proven: Readonly<Record<string, string>> = {},
  definitions: Vector["definitions"] = { [PART]: DEFINITION },
): Vector {
  return {
    name,
    records: records.map((record) => record.line),
    definitions,
    proven,
    expect: {
      marks: [],
      trays: [],
      useless_withdrawals: [],
      not_understood: [],
      ...expect,
    },
  };
}

export function tray(id: string, closings: string[] = [], differ = false, unproven = closings): object {
  return {
    id,
    look: "first",
    number: 4,
    places: 6,
    closings,
    closings_differ: differ,
    unproven,
  };
}

export function mark(id: string, n: number, more: object): object {
  return {
    id,
    look: "first",
    tray: of("a", 3),
    piece: id,
    zone: "",
    cavity: "",
    sign_on: of("a", 2),
    author: "",
    found_at: START + (n - 1) * 1000,
    time_doubtful: false,
    quick_repeat: false,
    ...more,
  };
}

/** Anna's tablet with tray 4 open: chain_opened is 1, signed_on 2, tray_opened 3. */
export function annaAtTrayFour(): { bench: Bench; open: string } {
  const bench = new Bench("a");
  bench.signOn(IDS.anna);
  return { bench, open: bench.openTray(4) };
}

function withdrawalBeforeItsMark(): Vector {
  const { bench, open } = annaAtTrayFour();
  bench.takeBack(bench.find(open, "stain"));
  bench.find(open, "stain");
  return vector("a withdrawal that arrives before its mark: dead on arrival", bench.ofBatch().reverse(), {
    marks: [mark(of("a", 6), 6, { defect: "stain", weight: "minor" })],
    trays: [tray(open)],
  });
}

function withdrawalWithdrawn(): Vector {
  const { bench, open } = annaAtTrayFour();
  const back = bench.takeBack(bench.find(open, "stain"));
  const useless = bench.takeBack(back);
  return vector("a withdrawal withdrawn: the mark stays dead, one useless withdrawal", bench.ofBatch(), {
    trays: [tray(open)],
    useless_withdrawals: [useless],
  });
}

function anothersWithdrawal(): Vector {
  const { bench, open } = annaAtTrayFour();
  const found = bench.find(open, "lap", { zone: "nose" });
  const ben = new Bench("b");
  ben.signOn(IDS.ben);
  const useless = [ben.takeBack(found), ben.takeBack(of("z", 99))];
  return vector(
    "another's withdrawal, and one of a record that nobody has: no effect, both shown",
    [...ben.ofBatch(), ...bench.ofBatch()],
    {
      marks: [mark(found, 4, { defect: "lap", weight: "critical", zone: "nose" })],
      trays: [tray(open)],
      useless_withdrawals: useless,
    },
  );
}

/** Anna signs on twice and takes back, under the second sign-on, what she marked under the first. */
function ownUnderAnotherSignOn(isProven: boolean): Vector {
  const bench = new Bench("a");
  const first = bench.signOn(IDS.anna);
  const open = bench.openTray(4);
  const found = bench.find(open, "lap", { zone: "nose" });
  const second = bench.signOn(IDS.anna);
  const taken = bench.takeBack(found);
  return vector(
    isProven
      ? "own mark taken back under another sign-on, both proven: dead"
      : "own mark taken back under another sign-on, one not proven: no effect until it is",
    bench.ofBatch(),
    {
      marks: isProven
        ? []
        : [mark(found, 4, { defect: "lap", weight: "critical", zone: "nose", author: IDS.anna })],
      trays: [tray(open)],
      useless_withdrawals: isProven ? [] : [taken],
    },
    isProven ? { [first]: IDS.anna, [second]: IDS.anna } : { [first]: IDS.anna },
  );
}

function worstClass(): Vector {
  const { bench, open } = annaAtTrayFour();
  const marks = [
    mark(bench.find(open, "lap"), 4, { defect: "lap", weight: "critical" }),
    mark(bench.find(open, "lap", { zone: "spine" }), 5, {
      defect: "lap",
      weight: "minor",
      zone: "spine",
    }),
    mark(bench.find(open, "lap", { zone: "ear" }), 6, {
      defect: "lap",
      weight: "critical",
      zone: "ear",
    }),
    mark(bench.find(open, "unset"), 7, { defect: "unset", weight: "critical" }),
    mark(bench.find(open, "nowhere"), 8, {
      defect: "nowhere",
      weight: "critical",
    }),
    mark(bench.find(open, "not_sure", { piece: of("a", 4) }), 9, {
      defect: "not_sure",
      weight: "query",
      piece: of("a", 4),
    }),
  ];
  return vector("no zone, an unknown zone, a word without class: the worst", bench.ofBatch(), {
    marks,
    trays: [tray(open)],
  });
}

function closedTwice(): Vector {
  const { bench, open } = annaAtTrayFour();
  const closings = [bench.closeTray(open, 0, 1), bench.closeTray(open, 1, 1)];
  return vector("a tray closed twice with other counts: a difference", bench.ofBatch(), {
    trays: [tray(open, closings, true)],
  });
}

function closedTwiceAlike(): Vector {
  const { bench, open } = annaAtTrayFour();
  const closings = [bench.closeTray(open, 0, 1), bench.closeTray(open, 0, 1)];
  return vector("a tray closed twice with the same counts: no difference", bench.ofBatch(), {
    trays: [tray(open, closings, false)],
  });
}

function notUnderstood(): Vector {
  const { bench, open } = annaAtTrayFour();
  const found = bench.add({
    batch: BATCH,
    definition: `${"s".repeat(26)}:11`,
    kind: "defect_tallied",
    v: 1,
    body: { look: "first", tray: open, defect: "lap" },
  });
  return vector(
    "a mark under a definition that is not there: not understood, never guessed",
    bench.ofBatch(),
    {
      trays: [tray(open)],
      not_understood: [found],
    },
  );
}

/** The cause of a lock goes from the tally one tap later; tests/vectors/holds says that the lock stays. */
function criticalUndone(): Vector {
  const { bench, open } = annaAtTrayFour();
  bench.takeBack(bench.find(open, "lap", { zone: "nose" }));
  return vector("own critical mark undone one tap later: off the tally", bench.ofBatch(), {
    trays: [tray(open)],
  });
}

function requestsChangeNoTally(): Vector {
  const { bench, open } = annaAtTrayFour();
  const found = bench.find(open, "unset");
  const lea = new Bench("b");
  lea.signOn(IDS.lea);
  const asked = lea.askForLift(found);
  const useless = [lea.takeBack(asked), lea.takeBack(lea.second(asked))];
  const server = new Bench("s");
  server.grant(asked);
  return vector(
    "a lift is asked for, seconded, granted and cannot be taken back: the mark it is about stands",
    [...bench.ofBatch(), ...lea.ofBatch(), ...server.ofBatch()],
    {
      marks: [mark(found, 4, { defect: "unset", weight: "critical" })],
      trays: [tray(open)],
      useless_withdrawals: useless,
    },
  );
}

/** Two tablets begin tray 4 of the same look and close it: nobody's tray replaces the other's. */
function sameNumberTwice(): Vector {
  const { bench, open } = annaAtTrayFour();
  const closed = bench.closeTray(open, 0, 0);
  const ben = new Bench("b");
  ben.signOn(IDS.ben);
  const other = ben.openTray(4);
  return vector(
    "a tray of one number begun on two tablets: two trays, both shown",
    [...bench.ofBatch(), ...ben.ofBatch()],
    { trays: [tray(open, [closed], false, []), tray(other)] },
    { [of("a", 2)]: IDS.anna },
  );
}

/** Without contact the device's clock is put on by a day between two taps, and back again. */
function clockStepped(): Vector {
  const { bench, open } = annaAtTrayFour();
  const before = bench.find(open, "stain");
  bench.stepClock(A_DAY);
  const during = bench.find(open, "stain");
  bench.stepClock(-A_DAY);
  const after = bench.find(open, "stain");
  const minor = { defect: "stain", weight: "minor" };
  return vector("the clock steps by a day between two taps: each a second after the other", bench.ofBatch(), {
    marks: [
      mark(before, 4, minor),
      mark(during, 5, { ...minor, time_doubtful: true }),
      mark(after, 6, minor),
    ],
    trays: [tray(open)],
  });
}

function doubtfulTime(): Vector {
  const noServer = new Bench("a", "unknown");
  noServer.signOn(IDS.anna);
  const open = noServer.openTray(4);
  const found = noServer.find(open, "stain", { quick_repeat: true });
  const farOff = new Bench("b", -300_001);
  farOff.signOn(IDS.ben);
  const early = farOff.find(open, "stain");
  return vector(
    "no server heard, or a clock more than five minutes out: the time is doubtful",
    [...noServer.ofBatch(), ...farOff.ofBatch()],
    {
      marks: [
        mark(early, 3, {
          defect: "stain",
          weight: "minor",
          sign_on: of("b", 2),
          found_at: START + 2000 - 300_001,
          time_doubtful: true,
        }),
        mark(found, 4, {
          defect: "stain",
          weight: "minor",
          time_doubtful: true,
          quick_repeat: true,
        }),
      ],
      trays: [tray(open)],
    },
  );
}

/** The vectors by the name of their file. */
export function vectors(): Record<string, Vector> {
  return {
    another_withdraws: anothersWithdrawal(),
    own_under_another_sign_on: ownUnderAnotherSignOn(false),
    own_under_another_sign_on_proven: ownUnderAnotherSignOn(true),
    clock_stepped: clockStepped(),
    closed_twice: closedTwice(),
    critical_undone: criticalUndone(),
    requests_change_no_tally: requestsChangeNoTally(),
    same_number_twice: sameNumberTwice(),
    closed_twice_alike: closedTwiceAlike(),
    doubtful_time: doubtfulTime(),
    no_zone_is_worst: worstClass(),
    unknown_definition: notUnderstood(),
    withdrawal_first: withdrawalBeforeItsMark(),
    withdrawal_withdrawn: withdrawalWithdrawn(),
  };
}
