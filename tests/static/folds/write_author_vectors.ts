// SPDX-License-Identifier: Apache-2.0
// Cases of the tally about who made what: proven, not proven, confirmed. See write_vectors.ts.
import { Bench, IDS } from "./bench.js";
import { annaAtTrayFour, mark, of, tray, vector, type Vector } from "./write_vectors.js";

/** Anna's sign-on a:2 was under a wrong PIN; she closed the tray, and signed on again as a:6. */
function confirmedLater(how: "unproven" | "confirmed" | "by another tablet" | "taken back"): Vector {
  const { bench, open } = annaAtTrayFour();
  const unproven = of("a", 2);
  const found = bench.find(open, "stain");
  const closed = bench.closeTray(open, 0, 1);
  const again = bench.signOn(IDS.anna);
  const other = new Bench("b");
  const elsewhere = other.signOn(IDS.ben);
  const said = (how === "by another tablet" ? other : bench).confirm(unproven, open);
  if (how === "taken back") bench.takeBack(said);
  const isConfirmed = how === "confirmed";
  return vector(
    `what was done under a wrong PIN, confirmed later: ${how}`,
    [...bench.ofBatch(), ...other.ofBatch()],
    {
      marks: [mark(found, 4, { defect: "stain", weight: "minor", author: isConfirmed ? IDS.anna : "" })],
      trays: [tray(open, [closed], false, isConfirmed ? [] : [closed])],
    },
    how === "unproven" ? { [elsewhere]: IDS.ben } : { [again]: IDS.anna, [elsewhere]: IDS.ben },
  );
}

/** Anna signs on anew and mistypes her PIN; a confirmation under that same sign-on proves nothing. */
function underAWrongPin(): Vector {
  const bench = new Bench("a");
  const right = bench.signOn(IDS.anna);
  const open = bench.openTray(4);
  const found = bench.find(open, "lap", { zone: "nose" });
  const wrong = bench.signOn(IDS.anna);
  const useless = bench.takeBack(found);
  bench.confirm(wrong, open);
  bench.takeBack(bench.find(open, "stain"));
  return vector(
    "under a wrong PIN an own critical mark is taken back, without effect; what was marked under it goes",
    bench.ofBatch(),
    {
      marks: [mark(found, 4, { defect: "lap", weight: "critical", zone: "nose", author: IDS.anna })],
      trays: [tray(open)],
      useless_withdrawals: [useless],
    },
    { [right]: IDS.anna },
  );
}

/** Anna closes under a wrong PIN; Ben and then she herself say, each with a right one, that the tray was theirs. */
function confirmedByTwo(): Vector {
  const { bench, open } = annaAtTrayFour();
  const found = bench.find(open, "stain");
  const closed = bench.closeTray(open, 0, 1);
  const ben = bench.signOn(IDS.ben);
  bench.confirm(of("a", 2), open);
  const anna = bench.signOn(IDS.anna);
  bench.confirm(of("a", 2), open);
  return vector(
    "two persons confirm the same tray: the first one's word holds",
    bench.ofBatch(),
    {
      marks: [mark(found, 4, { defect: "stain", weight: "minor", author: IDS.ben })],
      trays: [tray(open, [closed], false, [])],
    },
    { [ben]: IDS.ben, [anna]: IDS.anna },
  );
}

/** A confirmation speaks of one tray: what the same sign-on did in another one waits on. */
function confirmedOneOfTwo(): Vector {
  const { bench, open } = annaAtTrayFour();
  const closed = bench.closeTray(open, 0, 0);
  const other = bench.openTray(5);
  const alsoClosed = bench.closeTray(other, 0, 0);
  const again = bench.signOn(IDS.anna);
  bench.confirm(of("a", 2), open);
  return vector(
    "one of two trays confirmed: the other one waits",
    bench.ofBatch(),
    {
      trays: [
        tray(open, [closed], false, []),
        { ...tray(other, [alsoClosed], false, [alsoClosed]), number: 5 },
      ],
    },
    { [again]: IDS.anna },
  );
}

/** The vectors by the name of their file. */
export function vectors(): Record<string, Vector> {
  return {
    confirmation_unproven: confirmedLater("unproven"),
    confirmed_later: confirmedLater("confirmed"),
    confirmed_by_two: confirmedByTwo(),
    confirmed_one_of_two: confirmedOneOfTwo(),
    under_a_wrong_pin: underAWrongPin(),
    confirmed_by_another_tablet: confirmedLater("by another tablet"),
    confirmation_taken_back: confirmedLater("taken back"),
  };
}
