// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from "vitest";
import { newestParts } from "../../../static/src/bench/new_batch.js";
import type { PartDefinition } from "../../../static/src/records/kinds.js";
import { HOOK } from "../folds/looking.js";

const CLEAT: PartDefinition = { ...HOOK, part: "CL12", revision: "A" };

describe("a part to begin a batch of", () => {
  it("is offered once, as it was published last", () => {
    const published = new Map([
      ["d:1", HOOK],
      ["d:2", CLEAT],
      ["d:3", { ...HOOK, revision: "D" }],
    ]);
    expect(
      newestParts(published).map(({ definition, part }) => [definition, part.part, part.revision]),
    ).toEqual([
      ["d:2", "CL12", "A"],
      ["d:3", "SK70", "D"],
    ]);
  });
});
