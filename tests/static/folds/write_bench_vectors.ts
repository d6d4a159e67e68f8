// SPDX-License-Identifier: Apache-2.0
// Cases of pieces, trays and counts that both languages are held to. The records are composed; every expectation is
// written down by hand, because a fold that wrote its own expectation would agree with itself. An expectation names
// what its case is about: lists whole, of each entry the members that matter.
import type { PartDefinition } from "../../../static/src/records/kinds.js";
import { PART } from "./bench.js";
import { HOOK, ofBatch, PEOPLE, seenOf, Tablet } from "./looking.js";
import type { Vector } from "./write_vectors.js";

export function vector(
  name: string,
  tablets: readonly Tablet[],
  expect: object,
  more: { definitions?: Record<string, PartDefinition>; unproven?: readonly string[] } = {},
): Vector {
  const proven = tablets.flatMap(({ letter }): [string, string][] =>
    letter === "s" || more.unproven?.includes(letter) === true
      ? []
      : [[`${letter.repeat(26)}:2`, PEOPLE[letter]]],
  );
  return {
    name,
    records: ofBatch(...tablets).map((record) => record.line),
    definitions: { [PART]: HOOK, ...more.definitions },
    proven: Object.fromEntries(proven),
    expect,
  };
}

export const point = (kind: string, subject = "", amount = 0): object => ({ kind, subject, amount });

/** Lea counted 12 pieces into trays 1 and 2; Anna looked through the first. */
function twoTrays(): { lea: Tablet; anna: Tablet; server: Tablet } {
  const lea = new Tablet("d");
  lea.openBatch(12);
  lea.count([
    [1, 6],
    [2, 6],
  ]);
  const anna = new Tablet("a");
  anna.lookThrough(1, 6);
  return { lea, anna, server: new Tablet("s") };
}

/** Anna at tray 4 of 6 places, with one find. */
function oneFind(defect: string): { anna: Tablet; tray: string; mark: string } {
  const anna = new Tablet("a");
  const tray = anna.open(4, 6);
  return { anna, tray, mark: anna.mark(tray, defect) };
}

function rejectTakenBack(isClosed: boolean): Vector {
  const { anna, tray, mark } = oneFind("nick");
  if (isClosed) anna.close(tray, 6, 1);
  anna.takeBack(mark);
  const query = { piece: mark, verdict: "query", open_queries: [mark], worst: "" };
  return vector(
    isClosed
      ? "a reject mark taken back when its tray was closed: the piece is in query"
      : "a reject mark taken back at the open tray: gone",
    [anna],
    { tally: { marks: [] }, verdicts: isClosed ? [query] : [] },
  );
}

function takenBackThenClosed(): Vector {
  const { anna, tray, mark } = oneFind("nick");
  anna.takeBack(mark);
  anna.close(tray, 6);
  return vector("a reject mark taken back before its tray is closed: gone", [anna], { verdicts: [] });
}

function trayOnTwoTablets(): Vector {
  const lea = new Tablet("d");
  lea.openBatch(55);
  lea.count([[5, 55]]);
  const [anna, ben] = [new Tablet("a"), new Tablet("b")];
  const one = anna.lookThrough(5, 55);
  const other = ben.lookThrough(5, 55);
  const opening = { opened_at: 1_790_000_002_000, is_closed: true, looked: 55 };
  const openings = [
    { tray: one, chain: "a".repeat(26), ...opening },
    { tray: other, chain: "b".repeat(26), ...opening },
  ];
  const trays = [{ number: 5, due: 55, looked: 110, openings }];
  return vector("tray 5 opened on two tablets: 110 looked at, 55 over, both named", [lea, anna, ben], {
    ledger: {
      looks: [{ due: 55, looked: 110, accepted: 110, trays }],
      differences: [{ look: "first", kind: "tray_twice", subject: "5", amount: 55, accepted_by: "" }],
    },
  });
}

function closedTwice(isEqual: boolean): Vector {
  const { lea, anna } = twoTrays();
  const tray = anna.open(2, 6);
  anna.close(tray, 6);
  anna.close(tray, 6, 0, { empty: isEqual ? 0 : 1 });
  anna.sign(seenOf(lea, anna));
  const points = isEqual ? [] : [point("closings_differ", tray, 1)];
  return vector(
    isEqual ? "the same tray closed twice alike: once" : "the same tray closed twice otherwise: a difference",
    [lea, anna],
    { ledger: { looks: [{ looked: 12 }] }, looks: [{ look: "first", points }, { look: "second" }] },
  );
}

function twoPeopleDiffer(): Vector {
  const { anna, tray, mark } = oneFind("not_sure");
  anna.close(tray, 6, 0, { query: 1 });
  const [ben, lea] = [new Tablet("b"), new Tablet("d")];
  const differ = [ben.judge(mark, "accept"), lea.judge(mark, "reject")];
  return vector("two people judge a piece accept and reject: reject, named", [anna, ben, lea], {
    verdicts: [{ piece: mark, verdict: "reject", differ, main_defect: "not_sure", worst: "" }],
  });
}

function oneJudgesTwice(): Vector {
  const { anna, mark } = oneFind("not_sure");
  const ben = new Tablet("b");
  ben.judge(mark, "accept");
  ben.judge(mark, "reject");
  return vector("one person judges a piece twice: the worse, and nobody differs", [anna, ben], {
    verdicts: [{ piece: mark, verdict: "reject", differ: [] }],
  });
}

function notSureSettledByTwo(): Vector {
  const { anna, tray, mark } = oneFind("not_sure");
  anna.close(tray, 6, 0, { query: 1 });
  const [ben, lea] = [new Tablet("b"), new Tablet("d")];
  const settles = [mark];
  const differ = [ben.judge(mark, "accept", { settles }), lea.judge(mark, "reject", { settles })];
  return vector(
    "a not-sure mark settled otherwise by two: reject, named, once on the Pareto",
    [anna, ben, lea],
    {
      tally: { marks: [{ id: mark, defect: "not_sure", weight: "query" }] },
      verdicts: [{ piece: mark, verdict: "reject", open_queries: [], differ }],
      ledger: { looks: [{ looked: 6, accepted: 5, rejected: 1, query: 0 }] },
    },
  );
}

function notSureSettled(by: "another" | "another unproven" | "its finder"): Vector {
  const { anna, mark } = oneFind("not_sure");
  const judging = by === "its finder" ? anna : new Tablet("b");
  judging.judge(mark, "accept", { settles: [mark] });
  const verdict =
    by === "another"
      ? { piece: mark, verdict: "accept", open_queries: [] }
      : { piece: mark, verdict: "query", open_queries: [mark] };
  return vector(
    `a not-sure mark settled by ${by}: ${verdict.verdict}`,
    by === "its finder" ? [anna] : [anna, judging],
    { tally: { marks: [{ id: mark }] }, verdicts: [verdict] },
    { unproven: by === "another unproven" ? ["b"] : [] },
  );
}

function minorAccepted(by: "finder" | "another"): Vector {
  const { anna, mark } = oneFind("stain");
  const judging = by === "finder" ? anna : new Tablet("b");
  judging.judge(mark, "accept", { settles: [mark] });
  return vector(
    by === "finder"
      ? "a minor mark accepted by its finder at the open tray: accept, by a judgement of its own"
      : "a minor mark accepted by another: still a reject",
    by === "finder" ? [anna] : [anna, judging],
    { verdicts: [{ piece: mark, verdict: by === "finder" ? "accept" : "reject", worst: "minor" }] },
  );
}

function minorAcceptedTooLate(): Vector {
  const { anna, tray, mark } = oneFind("stain");
  anna.close(tray, 6, 1);
  anna.judge(mark, "accept", { settles: [mark] });
  return vector("a minor mark accepted by its finder when the tray was closed: query", [anna], {
    verdicts: [{ piece: mark, verdict: "query", open_queries: [mark] }],
  });
}

function majorAccepted(): Vector {
  const { anna, mark } = oneFind("nick");
  anna.judge(mark, "accept", { settles: [mark] });
  return vector("a major mark accepted by its finder: still a reject", [anna], {
    verdicts: [{ piece: mark, verdict: "reject" }],
  });
}

function throughRework(): Vector {
  const { anna, tray, mark } = oneFind("stain");
  anna.judge(mark, "rework", { settles: [mark] });
  anna.close(tray, 6, 0, { rework: 1 });
  anna.rework("rework_sent", 1);
  anna.rework("rework_returned", 1);
  anna.judge(mark, "accept", { round: 2 });
  const ben = new Tablet("b");
  ben.judge(mark, "reject", { round: 2 });
  return vector("minor, rework, back, accept, a second says reject: second round, reject", [anna, ben], {
    verdicts: [{ piece: mark, round: 2, verdict: "reject", main_defect: "stain", worst: "minor" }],
    ledger: {
      looks: [{ looked: 6, accepted: 5, rejected: 1, rework: 0, sent: 1, returned: 1 }],
      differences: [],
    },
  });
}

function reworkNotLookedAtAgain(): Vector {
  const { lea, anna } = twoTrays();
  const tray = anna.open(2, 6);
  const mark = anna.mark(tray, "stain");
  anna.judge(mark, "rework", { settles: [mark] });
  anna.close(tray, 6, 0, { rework: 1 });
  anna.rework("rework_sent", 1);
  anna.rework("rework_returned", 1);
  anna.sign(seenOf(lea, anna));
  return vector("rework that came back and was not looked at as new: open", [lea, anna], {
    looks: [{ points: [point("rework_open", mark)] }, {}],
  });
}

function reworkCounts(sent: number, returned: number, differences: readonly object[]): Vector {
  const anna = new Tablet("a");
  if (sent > 0) anna.rework("rework_sent", sent);
  anna.rework("rework_returned", returned);
  return vector(`rework: ${sent} sent, ${returned} back`, [anna], { ledger: { differences } });
}

function splitTooMuch(): Vector {
  const [anna, ben] = [new Tablet("a"), new Tablet("b")];
  anna.openBatch(600);
  anna.split(400);
  ben.split(400);
  const differences = [{ look: "", kind: "split_too_much", subject: "", amount: -200 }];
  return vector("400 and 400 of 600 split off on two tablets: 200 too much, named", [anna, ben], {
    ledger: { opened: 600, taken: 800, left: -200, differences },
  });
}

/** Three short in tray 2, accepted; then a foreign piece in it makes them four. */
function acceptedDifference(grows: boolean): Vector {
  const { lea, anna, server } = twoTrays();
  const tray = anna.open(2, 6);
  anna.close(tray, 6, 0, { empty: 3 });
  const request = lea.askForAcceptance("tray_short", "2", -3);
  server.grant(request);
  const ben = new Tablet("b");
  const differences = grows
    ? [
        { kind: "foreign_pieces", subject: ben.foreign(tray), amount: 1, accepted_by: "" },
        { kind: "tray_short", subject: "2", amount: -4, accepted_by: "" },
      ]
    : [{ kind: "tray_short", subject: "2", amount: -3, accepted_by: request }];
  return vector(
    grows ? "a difference of 3 accepted, then 4: open again" : "a difference of 3 accepted at 3: closed",
    [lea, anna, server, ben],
    { ledger: { differences } },
  );
}

function shortAndOver(): Vector {
  const { lea, anna } = twoTrays();
  anna.lookThrough(2, 7);
  anna.lookThrough(3, 4);
  const ben = new Tablet("b");
  ben.close(ben.open(1, 6), 6, 0, { empty: 2 });
  return vector("over, twice and not due: lines of their own, with their sign", [lea, anna, ben], {
    ledger: {
      differences: [
        { kind: "tray_not_due", subject: "3", amount: 4 },
        { kind: "tray_over", subject: "2", amount: 1 },
        { kind: "tray_twice", subject: "1", amount: 4 },
      ],
    },
  });
}

function signedTooEarly(signsAgain: boolean): Vector {
  const { lea, anna } = twoTrays();
  const away = new Tablet("b");
  const tray = away.open(2, 6);
  const before = { chain: "b".repeat(26), n: away.records.length };
  anna.lookThrough(2, 6);
  const signature = anna.sign([...seenOf(lea, anna), before]);
  const marks = [away.mark(tray, "nick"), away.mark(tray, "nick")];
  const again = signsAgain ? anna.sign(seenOf(lea, anna, away)) : "";
  const early = signsAgain ? [] : [point("signed_before_this_came", signature, 2)];
  return vector(
    signsAgain
      ? "signed, then 2 marks, signed again: signed"
      : "signed, then 2 marks: signed before this came",
    [lea, anna, away],
    {
      verdicts: marks.map((piece) => ({ piece, verdict: "reject" })),
      looks: [{ signed_by: again, points: [...early, point("tray_not_closed", tray)] }, {}],
    },
  );
}

function releasedTooEarly(): Vector {
  const { lea, anna, server } = twoTrays();
  const ben = new Tablet("b", "first", -2 * 24 * 60 * 60 * 1000);
  const tray = ben.open(2, 6);
  const request = lea.askForRelease(seenOf(lea, anna, ben));
  server.grant(request);
  const mark = ben.mark(tray, "crack");
  return vector(
    "released, then a critical mark made two days before: open again, and a hold",
    [lea, anna, server, ben],
    {
      releases: [{ request, late: [mark] }],
      holds: { holds: [{ id: mark, cause: "critical", lifted_by: "" }] },
      verdicts: [{ piece: mark, verdict: "locked", locked_by: [mark] }],
    },
  );
}

function released(): Vector {
  const { lea, anna, server } = twoTrays();
  const request = lea.askForRelease(seenOf(lea, anna));
  server.grant(request);
  return vector("released on all that is there", [lea, anna, server], { releases: [{ request, late: [] }] });
}

function lifted(isMarkedAgain: boolean): Vector {
  const { anna, tray, mark } = oneFind("crack");
  const server = new Tablet("s");
  server.grant(anna.askForLift(mark));
  const locked_by = isMarkedAgain ? [anna.mark(tray, "crack", { piece: mark })] : [];
  const verdict = isMarkedAgain ? "locked" : "reject";
  return vector(
    isMarkedAgain
      ? "a hold lifted, then a second critical mark on the piece: locked again"
      : "a hold lifted: a critical piece is still a reject",
    [anna, server],
    { verdicts: [{ piece: mark, verdict, main_defect: "crack", worst: "critical", locked_by }] },
  );
}

function decidedByALead(seesAll: boolean): Vector {
  const { anna, tray, mark } = oneFind("nick");
  const [lea, server] = [new Tablet("d"), new Tablet("s")];
  const seen = seenOf(anna);
  if (!seesAll) anna.mark(tray, "stain", { piece: mark });
  server.grant(lea.askForVerdict(mark, "accept", seen));
  return vector(
    seesAll
      ? "a reject a lead was granted to accept: accept"
      : "a mark that a granted verdict had not seen: it weighs by itself",
    [anna, lea, server],
    { verdicts: [{ piece: mark, verdict: seesAll ? "accept" : "reject", worst: "major" }] },
  );
}

function decidedTwice(): Vector {
  const { anna, mark } = oneFind("nick");
  const [lea, server] = [new Tablet("d"), new Tablet("s")];
  server.grant(lea.askForVerdict(mark, "reject", seenOf(anna)));
  server.grant(lea.askForVerdict(mark, "accept", seenOf(anna, server)));
  return vector("a granted verdict after another that it had seen: the later one", [anna, lea, server], {
    verdicts: [{ piece: mark, verdict: "accept" }],
  });
}

function unknownList(): Vector {
  const { lea, anna } = twoTrays();
  const tray = anna.open(2, 6);
  const mark = anna.mark(tray, "nick", { definition: `${"s".repeat(26)}:99` });
  anna.close(tray, 6);
  anna.sign(seenOf(lea, anna));
  const unknown = point("not_understood", mark);
  return vector("a mark by a list that is not there: every look stays open", [lea, anna], {
    verdicts: [],
    looks: [{ points: [unknown] }, { points: [point("not_counted"), point("not_signed"), unknown] }],
  });
}

function foundLate(): Vector {
  const anna = new Tablet("a");
  const found = anna.foundLate();
  return vector("a piece found late: a hold, and a line", [anna], {
    holds: { holds: [{ id: found, cause: "found", piece: "", look: "" }] },
    ledger: { differences: [{ look: "", kind: "pieces_found", subject: found, amount: 1 }] },
  });
}

function worstThenFirst(): Vector {
  const { anna, tray, mark } = oneFind("stain");
  anna.mark(tray, "nick", { piece: mark });
  anna.mark(tray, "not_sure", { piece: mark });
  return vector("the main defect: the worst class, then the first", [anna], {
    verdicts: [{ piece: mark, tray, verdict: "reject", main_defect: "nick", worst: "major" }],
  });
}

export function vectors(): Record<string, Vector> {
  return {
    reject_taken_back_open_tray: rejectTakenBack(false),
    reject_taken_back_closed_tray: rejectTakenBack(true),
    reject_taken_back_then_closed: takenBackThenClosed(),
    tray_on_two_tablets: trayOnTwoTablets(),
    closed_twice_alike: closedTwice(true),
    closed_twice: closedTwice(false),
    two_people_differ: twoPeopleDiffer(),
    one_judges_twice: oneJudgesTwice(),
    not_sure_settled_by_two: notSureSettledByTwo(),
    not_sure_settled: notSureSettled("another"),
    not_sure_settled_unproven: notSureSettled("another unproven"),
    not_sure_settled_by_its_finder: notSureSettled("its finder"),
    minor_accepted_by_its_finder: minorAccepted("finder"),
    minor_accepted_by_another: minorAccepted("another"),
    minor_accepted_too_late: minorAcceptedTooLate(),
    major_accepted_by_its_finder: majorAccepted(),
    through_rework: throughRework(),
    rework_not_looked_at_again: reworkNotLookedAtAgain(),
    // Nobody judged these pieces to be reworked: a line of its own.
    rework_one_too_many: reworkCounts(19, 20, [
      { kind: "rework_not_judged", amount: -19 },
      { kind: "rework_over", amount: -1 },
    ]),
    rework_without_sending: reworkCounts(0, 20, [{ kind: "return_without_sending", amount: -20 }]),
    rework_still_away: reworkCounts(20, 19, [
      { kind: "rework_away", amount: 1 },
      { kind: "rework_not_judged", amount: -20 },
    ]),
    split_too_much: splitTooMuch(),
    difference_accepted: acceptedDifference(false),
    difference_accepted_then_grown: acceptedDifference(true),
    short_and_over: shortAndOver(),
    signed_before_this_came: signedTooEarly(false),
    signed_again: signedTooEarly(true),
    released: released(),
    released_before_this_came: releasedTooEarly(),
    lifted: lifted(false),
    lifted_and_marked_again: lifted(true),
    decided_by_a_lead: decidedByALead(true),
    decided_unseen: decidedByALead(false),
    decided_twice: decidedTwice(),
    unknown_list: unknownList(),
    found_late: foundLate(),
    worst_then_first: worstThenFirst(),
  };
}
