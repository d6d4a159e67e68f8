// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { closedEntries } from "../../../static/src/bench/closed_entries.js";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldTally } from "../../../static/src/folds/tally.js";
import { PART } from "../folds/bench.js";
import { HOOK, ofBatch, PEOPLE, Tablet } from "../folds/looking.js";

const PROVEN = new Map<string, string>(
  (["a", "b"] as const).map((letter) => [`${letter.repeat(26)}:2`, PEOPLE[letter]]),
);

/** What Anna is shown of a tray; persons by the sign-ons that were proven to be theirs, and by all. */
function shown(
  tray: string,
  tablets: readonly Tablet[],
  proven = PROVEN,
  persons = proven,
): (string | boolean)[][] {
  const records = ofBatch(...tablets);
  const byId = new Map(records.map((record) => [record.id, record]));
  const tally = foldTally(new Gathered(records, proven), new Map([[PART, HOOK]]));
  const found = tally.trays.find((one) => one.id === tray);
  if (found === undefined) throw new Error("no such tray");
  const personOf = (signOn: string) => persons.get(signOn);
  return closedEntries(found, tally, byId, HOOK, { person: PEOPLE.a, personOf, proven }).map(
    ({ what, says, isTakenBack }) => [what, says, isTakenBack],
  );
}

describe("the entries of a closed tray", () => {
  test("finds, judgements and the closing stand in the order they were made", () => {
    const tablet = new Tablet("a");
    const tray = tablet.open(1, 60);
    const stain = tablet.mark(tray, "stain", { zone: "ear" });
    tablet.judge(stain, "accept", { settles: [stain] });
    tablet.mark(tray, "nick");
    tablet.close(tray, 60, 1);
    expect(shown(tray, [tablet])).toEqual([
      ["find", "stain, ear", false],
      ["judgement", "Accept", false],
      ["find", "nick", false],
      ["closing", "The closing of the tray", false],
    ]);
  });

  test("what somebody else entered is not shown for the taking back, nor what lies in another tray", () => {
    const [anna, ben] = [new Tablet("a"), new Tablet("b")];
    const tray = anna.open(1, 60);
    anna.mark(anna.open(2, 60), "nick");
    ben.mark(tray, "crack");
    ben.close(tray, 60, 1);
    expect(shown(tray, [anna, ben])).toEqual([]);
  });

  test("what was taken back is gone once it counts, and says until then what it waits for", () => {
    const tablet = new Tablet("a");
    const tray = tablet.open(1, 60);
    const mark = tablet.mark(tray, "nick");
    tablet.close(tray, 60, 1);
    tablet.takeBack(mark);
    expect(shown(tray, [tablet])).toEqual([["closing", "The closing of the tray", false]]);

    // Anna at another tablet, where her PIN is not judged yet.
    const [first, later] = [new Tablet("a"), new Tablet("b")];
    const waiting = first.open(1, 60);
    later.takeBack(first.mark(waiting, "nick"));
    const [here, there] = ["a", "b"].map((letter) => `${letter.repeat(26)}:2`);
    const present = new Map([
      [here ?? "", PEOPLE.a],
      [there ?? "", PEOPLE.a],
    ]);
    const proven = new Map([[here ?? "", PEOPLE.a]]);
    expect(shown(waiting, [first, later], proven, present)).toEqual([["find", "nick", true]]);
    expect(shown(waiting, [first, later], present, present)).toEqual([]);
  });
});
