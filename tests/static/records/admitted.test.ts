// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldTally } from "../../../static/src/folds/tally.js";
import { unfold } from "../../../static/src/records/admitted.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { decode } from "../../../static/src/records/read.js";
import { vectors, type AdmittedVector } from "../folds/write_admitted_vectors.js";

const files = import.meta.glob<AdmittedVector>("../../vectors/admitted/*.json", {
  eager: true,
  import: "default",
});

function plain({ id, chain, n, kind, sign_on, batch, known }: ReadRecord): object {
  return JSON.parse(JSON.stringify({ id, chain, n, kind, sign_on, batch, body: known?.body })) as object;
}

describe("an admission", () => {
  it("has vectors to be held to", () => {
    expect(Object.keys(files).length).toBeGreaterThan(1);
  });

  it.each(Object.entries(files))("is unfolded as %s says", (_, vector) => {
    expect(vector.records.map((line) => plain(unfold(decode(line))))).toEqual(vector.unfolded);
  });

  it.each(Object.entries(files))("counts as %s says", (_, vector) => {
    const records = vector.records.map((line) => unfold(decode(line)));
    const tally = foldTally(
      new Gathered([...records.reverse(), ...records], new Map(Object.entries(vector.proven))),
      new Map(Object.entries(vector.definitions)),
    );
    expect(
      tally.marks.map((one) => [one.id, one.tray, one.piece, one.weight, one.sign_on, one.author]),
    ).toEqual(vector.marks);
    expect(tally.trays.map((one) => [one.id, one.closings])).toEqual(vector.trays);
    expect(tally.useless_withdrawals).toEqual(vector.useless_withdrawals);
  });

  it("is held to the vectors that their own script writes", () => {
    for (const [name, vector] of Object.entries(vectors())) {
      expect(files[`../../vectors/admitted/${name}.json`]).toEqual(vector);
    }
  });
});
