// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { differenceOf } from "../../../static/src/folds/route.js";
import { Stints } from "../../../static/src/machine/stints.js";
import { decode } from "../../../static/src/records/read.js";

interface Vector {
  readonly proven: Record<string, string>;
  readonly records: readonly string[];
}

const files = import.meta.glob<Vector>("../../vectors/route/settled_by_*.json", {
  eager: true,
  import: "default",
});

function standing(name: string) {
  const vector = files[`../../vectors/route/${name}.json`];
  if (vector === undefined) throw new Error("no such vector");
  const proven = new Map<string, string>(Object.entries(vector.proven));
  const stints = new Stints(vector.records.map(decode), proven, 60);
  const [finish] = stints.finishes;
  if (finish === undefined) throw new Error("the vector has a count");
  return { finish, stands: stints.stands(finish, proven) };
}

describe("what stands of a count", () => {
  it("is the number of whoever settled it, and no longer adds up where that does not", () => {
    const { finish, stands } = standing("settled_by_another");
    expect(differenceOf(finish.body)).toBe(0);
    expect(differenceOf(stands.body)).toBe(-2);
    expect(stands.settledBy.map(({ body }) => [body.of, body.pieces])).toEqual([["out", 95]]);
  });

  it("is the first count where only its own author names it", () => {
    const { finish, stands } = standing("settled_by_oneself");
    expect(stands).toEqual({ body: finish.body, settledBy: [] });
  });
});
