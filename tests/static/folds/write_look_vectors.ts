// SPDX-License-Identifier: Apache-2.0
// Cases of whole looks and of limits, written down as those of write_bench_vectors.ts are.
import { IDS, PART } from "./bench.js";
import { HOOK, seenOf, Tablet } from "./looking.js";
import { point, vector } from "./write_bench_vectors.js";
import type { Vector } from "./write_vectors.js";

const TWO_CARDS = [
  [1, 6],
  [2, 6],
] as const;

/** Lea counted in behind operation 90; two tablets, or one, looked through both trays; the second signs it all. */
function firstLook(other?: Tablet): { lea: Tablet; anna: Tablet } {
  const [lea, anna] = [new Tablet("d"), new Tablet("a")];
  const last = other ?? anna;
  lea.openBatch(12);
  lea.count(TWO_CARDS, 90);
  anna.lookThrough(1, 6);
  last.lookThrough(2, 6);
  last.sign(seenOf(...new Set([lea, anna, last])));
  return { lea, anna };
}

/** A stain can be seen behind operation 130 only; the first look stands behind 90. */
const FIRST_COVERAGE = [
  { family: "crack", zone: "", looks: ["first"], unknown: [] },
  { family: "crack", zone: "ear", looks: ["first"], unknown: [] },
  { family: "nick", zone: "", looks: ["first"], unknown: [] },
  { family: "nick", zone: "ear", looks: ["first"], unknown: [] },
  { family: "stain", zone: "", looks: [], unknown: [] },
  { family: "stain", zone: "ear", looks: [], unknown: [] },
];
/** The second stands behind 130; the ear is covered after 110. */
const BOTH_COVERAGE = [
  { family: "crack", zone: "", looks: ["first", "second"], unknown: [] },
  { family: "crack", zone: "ear", looks: ["first"], unknown: [] },
  { family: "nick", zone: "", looks: ["first", "second"], unknown: [] },
  { family: "nick", zone: "ear", looks: ["first"], unknown: [] },
  { family: "stain", zone: "", looks: ["second"], unknown: [] },
  { family: "stain", zone: "ear", looks: [], unknown: [] },
];

function complete(): Vector {
  const { lea, anna } = firstLook();
  const pages = [{ counted: 12, due: 12, looked: 12, accepted: 12 }];
  return vector("every due tray closed once, all of it seen and signed: complete", [lea, anna], {
    ledger: { opened: 12, left: 12, looks: pages, differences: [] },
    looks: [
      { look: "first", points: [], signed_by: `${"a".repeat(26)}:7`, independence: [] },
      { look: "second", points: [point("not_counted"), point("not_signed")] },
    ],
    coverage: FIRST_COVERAGE,
    limits: [
      { class: "critical", state: "met", defective: 0, looked: 12, due: 12 },
      { class: "major", state: "met", state_with_queries: "met" },
    ],
  });
}

function operationNotWritten(): Vector {
  const [lea, anna] = [new Tablet("d"), new Tablet("a")];
  lea.openBatch(6);
  lea.count([[1, 6]]);
  anna.lookThrough(1, 6);
  anna.sign(seenOf(lea, anna));
  return vector(
    "nobody wrote behind which operation the look stands: not known where that matters",
    [lea, anna],
    {
      coverage: [
        { family: "crack", zone: "", looks: ["first"], unknown: [] },
        { family: "crack", zone: "ear", looks: [], unknown: ["first"] },
        { family: "nick", zone: "", looks: ["first"], unknown: [] },
        { family: "nick", zone: "ear", looks: [], unknown: ["first"] },
        { family: "stain", zone: "", looks: [], unknown: ["first"] },
        { family: "stain", zone: "ear", looks: [], unknown: ["first"] },
      ],
    },
  );
}

/** Anna looked at all 12 first. At the second look Ben's tablet has its two trays by the people named. */
function secondLook(name: string, people: readonly string[], second: object, coverage: object): Vector {
  const { lea, anna } = firstLook();
  const [ben, leo] = [new Tablet("b", "second"), new Tablet("e", "second")];
  leo.count(TWO_CARDS, 130);
  const signOns = people.map((person, place): [string, string] => {
    const signOn = ben.signOn(person);
    ben.lookThrough(place + 1, 6);
    return [signOn, person];
  });
  ben.sign(seenOf(lea, anna, ben, leo));
  const made = vector(name, [lea, anna, ben, leo], {
    looks: [
      { look: "first", points: [] },
      { look: "second", ...second },
    ],
    coverage,
  });
  return { ...made, proven: { ...made.proven, ...Object.fromEntries<string>(signOns) } };
}

/** Anna had one tray of two at the first look and has one of two at the second, the other is not looked at yet. */
function perhapsTheSame(): Vector {
  const ben = new Tablet("b");
  const { lea, anna } = firstLook(ben);
  const leo = new Tablet("e", "second");
  leo.count(TWO_CARDS, 130);
  const signOn = leo.signOn(IDS.anna);
  leo.lookThrough(1, 6);
  const made = vector("half of each look by one person: perhaps the same pieces", [lea, anna, ben, leo], {
    looks: [
      { points: [] },
      {
        points: [point("not_signed"), point("same_eyes", IDS.anna, 6), point("tray_not_opened", "2")],
        independence: [{ other: "first", pieces: 6, certain: 0, possible: 6, never: 0 }],
      },
    ],
  });
  return { ...made, proven: { ...made.proven, [signOn]: IDS.anna } };
}

/** Anna left the one tray after three places without a find; Ben closed it. At the second look she has it again. */
function handedOver(): Vector {
  const [lea, anna, ben, leo] = [
    new Tablet("d"),
    new Tablet("a"),
    new Tablet("b"),
    new Tablet("e", "second"),
  ];
  lea.openBatch(6);
  lea.count([[1, 6]]);
  const tray = anna.open(1, 6);
  ben.takeOver(tray, anna.leave(tray, 3));
  ben.close(tray, 6);
  ben.sign(seenOf(lea, anna, ben));
  ben.rest();
  leo.count([[1, 6]]);
  const signOn = leo.signOn(IDS.anna);
  leo.lookThrough(1, 6);
  const made = vector(
    "who left a tray had its pieces in hand, and a rest behind the signature asks for no new one",
    [lea, anna, ben, leo],
    {
      looks: [
        { points: [] },
        {
          points: [point("not_signed"), point("same_eyes", IDS.anna, 6)],
          independence: [{ other: "first", pieces: 6, certain: 0, possible: 0, never: 6 }],
        },
      ],
    },
  );
  return { ...made, proven: { ...made.proven, [signOn]: IDS.anna } };
}

function nobodyCounted(): Vector {
  const anna = new Tablet("a");
  anna.openBatch(6);
  anna.lookThrough(1, 6);
  anna.sign(seenOf(anna));
  return vector("looked at, and never counted in: not complete, no limit is judged", [anna], {
    looks: [{ points: [point("not_counted")] }, {}],
    limits: [{ state: "uncounted" }, { state: "uncounted" }],
  });
}

function countedByTheLooker(): Vector {
  const anna = new Tablet("a");
  anna.openBatch(6);
  anna.count([[1, 6]]);
  anna.lookThrough(1, 6);
  anna.sign(seenOf(anna));
  return vector("counted in by who looks: named", [anna], {
    looks: [{ points: [point("counted_by_looker", IDS.anna)] }, {}],
  });
}

/** Leo's count is five seconds newer than Lea's. */
function twoCounts(isEqual: boolean): Vector {
  const [lea, leo, anna] = [new Tablet("d"), new Tablet("e", "first", 5000), new Tablet("a")];
  lea.openBatch(12);
  lea.count(TWO_CARDS);
  const second = isEqual ? 6 : 5;
  const newest = leo.count([
    [1, 6],
    [2, second],
  ]);
  anna.lookThrough(1, 6);
  anna.lookThrough(2, second);
  anna.sign(seenOf(lea, leo, anna));
  return vector(isEqual ? "two counts that agree: one" : "two counts that differ: named", [lea, leo, anna], {
    ledger: { looks: [{ counted_by: newest, due: isEqual ? 12 : 11 }] },
    looks: [{ points: isEqual ? [] : [point("counts_differ", "", 1)] }, {}],
  });
}

function nothingProven(): Vector {
  const { lea, anna } = firstLook();
  const of = (n: number): string => `${"a".repeat(26)}:${n}`;
  return vector(
    "nobody proven: not counted, not looked at, not signed",
    [lea, anna],
    {
      ledger: { looks: [{ counted_by: "", looked: 0, due: 0 }] },
      looks: [
        {
          points: [
            point("closing_not_proven", of(4)),
            point("closing_not_proven", of(6)),
            point("count_not_proven", `${"d".repeat(26)}:4`),
            point("not_counted"),
            point("not_signed"),
            point("signature_not_proven", of(7)),
            point("tray_not_closed", of(3)),
            point("tray_not_closed", of(5)),
          ],
        },
        {},
      ],
    },
    { unproven: ["a", "d"] },
  );
}

/** 200 pieces in four trays of 50, 8 of them allowed with a nick; some trays are looked at, nicks by tray. */
function limit(name: string, trays: readonly number[], expect: object, isOpen = false): Vector {
  const [lea, anna] = [new Tablet("d"), new Tablet("a")];
  lea.openBatch(200);
  lea.count([1, 2, 3, 4].map((number) => [number, 50] as const));
  trays.forEach((nicks, place) => {
    const tray = anna.open(place + 1, 50);
    for (let nick = 0; nick < nicks; nick += 1) anna.mark(tray, "nick");
    if (!isOpen) anna.close(tray, 50, nicks);
  });
  return vector(name, [lea, anna], {
    limits: [{ class: "critical" }, { class: "major", due: 200, ...expect }],
  });
}

/** Eight nicks and one not sure among 200: over with the query, met once it is settled. */
function fallsBack(isSettled: boolean): Vector {
  const [lea, anna, server] = [new Tablet("d"), new Tablet("a"), new Tablet("s")];
  lea.openBatch(200);
  lea.count([[1, 200]]);
  const tray = anna.open(1, 200);
  for (let nick = 0; nick < 8; nick += 1) anna.mark(tray, "nick");
  const query = anna.mark(tray, "not_sure");
  anna.close(tray, 200, 8, { query: 1 });
  const crossed = server.crossLimit();
  if (isSettled) lea.judge(query, "accept", { settles: [query] });
  const major = isSettled
    ? { defective: 8, with_queries: 8, state: "met", state_with_queries: "met" }
    : { defective: 8, with_queries: 9, state: "met", state_with_queries: "over" };
  return vector(
    isSettled
      ? "over with its query, settled to accept: met, and the hold is still there"
      : "eight of eight allowed and one query: met, over with it",
    [lea, anna, server],
    {
      holds: { holds: [{ id: crossed, cause: "limit", look: "first", lifted_by: "" }] },
      limits: [
        { class: "critical", defective: 0, with_queries: isSettled ? 0 : 1 },
        { class: "major", ...major },
      ],
    },
  );
}

function acceptedStillCounts(): Vector {
  const [lea, anna, server] = [new Tablet("d"), new Tablet("a"), new Tablet("s")];
  lea.openBatch(10);
  lea.count([[1, 10]]);
  const tray = anna.open(1, 10);
  const mark = anna.mark(tray, "nick");
  anna.close(tray, 10, 1);
  server.grant(lea.askForVerdict(mark, "accept", seenOf(anna)));
  return vector(
    "a piece with a major mark that was accepted: it counts against the limit",
    [lea, anna, server],
    {
      verdicts: [{ verdict: "accept", worst: "major" }],
      limits: [{}, { class: "major", defective: 1, state: "over" }],
    },
  );
}

/** Raised from minor to major by the next version of the list. */
function classRaised(): Vector {
  const [anna, next] = [new Tablet("a"), `${"s".repeat(26)}:11`];
  const tray = anna.open(1, 6);
  const [before, after] = [anna.mark(tray, "stain"), anna.mark(tray, "stain", { definition: next })];
  const defects = HOOK.defects.map((word) =>
    word.defect === "stain" ? { ...word, class: "major" as const } : word,
  );
  const verdicts = [
    { piece: before, worst: "minor" },
    { piece: after, worst: "major" },
  ];
  return vector(
    "the same word by two versions of the list: each by its own",
    [anna],
    { verdicts },
    { definitions: { [PART]: HOOK, [next]: { ...HOOK, defects } } },
  );
}

export function vectors(): Record<string, Vector> {
  const share = (certain: number, possible: number, never: number): object => ({
    independence: [{ other: "first", pieces: 12, certain, possible, never }],
  });
  const twice = (pieces: number): object => ({ points: [point("same_eyes", IDS.anna, pieces)] });
  return {
    complete: complete(),
    operation_not_written: operationNotWritten(),
    second_look_by_another: secondLook(
      "a second look by another",
      [IDS.ben, IDS.ben],
      { points: [], ...share(12, 0, 0) },
      BOTH_COVERAGE,
    ),
    second_look_by_the_same: secondLook(
      "a second look by the same person",
      [IDS.anna, IDS.anna],
      { ...twice(12), ...share(0, 0, 12) },
      FIRST_COVERAGE,
    ),
    second_look_by_one_of_two: secondLook(
      "a second look half by the same person, who had all of the first",
      [IDS.ben, IDS.anna],
      { ...twice(6), ...share(6, 0, 6) },
      FIRST_COVERAGE,
    ),
    second_look_perhaps_the_same: perhapsTheSame(),
    second_look_by_who_handed_over: handedOver(),
    never_counted_in: nobodyCounted(),
    counted_by_who_looks: countedByTheLooker(),
    two_counts_alike: twoCounts(true),
    two_counts: twoCounts(false),
    nothing_proven: nothingProven(),
    limit_within: limit("one nick in each of two trays: within", [1, 1], {
      defective: 2,
      looked: 100,
      state: "within",
    }),
    limit_one_tray: limit("six nicks in the only tray: within, one tray is no trend", [6], {
      state: "within",
    }),
    limit_watch: limit("three nicks in each of two trays: watch", [3, 3], { defective: 6, state: "watch" }),
    limit_broken: limit(
      "nine nicks in an open tray: broken at once",
      [9],
      { defective: 0, marked: 9, looked: 0, state: "broken" },
      true,
    ),
    limit_met: limit("two nicks in each of four trays: met", [2, 2, 2, 2], {
      defective: 8,
      looked: 200,
      state: "met",
    }),
    limit_over: limit("nine nicks in four trays: over", [2, 2, 2, 3], {
      defective: 9,
      looked: 200,
      state: "over",
    }),
    limit_falls_back: fallsBack(true),
    limit_with_its_query: fallsBack(false),
    limit_counts_the_accepted: acceptedStillCounts(),
    class_raised: classRaised(),
  };
}
