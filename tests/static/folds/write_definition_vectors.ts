// SPDX-License-Identifier: Apache-2.0
// Cases of the tally about what a mark is judged by. See write_vectors.ts.
import type { PartDefinition } from "../../../static/src/records/kinds.js";
import { BATCH, DEFINITION, IDS, PART } from "./bench.js";
import { annaAtTrayFour, mark, of, tray, vector, type Vector } from "./write_vectors.js";

/** The second version of the list, in which a stain is critical and no longer minor. */
const SECOND = of("s", 11);
const RAISED: PartDefinition = {
  ...DEFINITION,
  defects: DEFINITION.defects.map((word) =>
    word.defect === "stain" ? { ...word, class: "critical" } : word,
  ),
};

/** A stain under the first version of the list, and one under the second. */
function stainUnderBoth(): {
  open: string;
  first: string;
  second: string;
  records: Parameters<typeof vector>[1];
} {
  const { bench, open } = annaAtTrayFour();
  const first = bench.find(open, "stain");
  const second = bench.add({
    batch: BATCH,
    definition: SECOND,
    kind: "defect_tallied",
    v: 1,
    body: { look: "first", tray: open, defect: "stain" },
  });
  return { open, first, second, records: bench.ofBatch() };
}

function classRaised(): Vector {
  const { open, first, second, records } = stainUnderBoth();
  return vector(
    "one defect under two versions of the list, its class raised in the second: each mark by its own",
    records,
    {
      marks: [
        mark(first, 4, { defect: "stain", weight: "minor", author: IDS.anna }),
        mark(second, 5, { defect: "stain", weight: "critical", author: IDS.anna }),
      ],
      trays: [tray(open)],
    },
    { [of("a", 2)]: IDS.anna },
    { [PART]: DEFINITION, [SECOND]: RAISED },
  );
}

/** The same records as in the case of a raised class: when the file comes, nothing else changes. */
function fileMissing(): Vector {
  const { open, first, second, records } = stainUnderBoth();
  return vector(
    "the file of the second version is not here: its mark is not understood, and not judged by the first",
    records,
    {
      marks: [mark(first, 4, { defect: "stain", weight: "minor", author: IDS.anna })],
      trays: [tray(open)],
      not_understood: [second],
    },
    { [of("a", 2)]: IDS.anna },
  );
}

/** The vectors by the name of their file. */
export function vectors(): Record<string, Vector> {
  return { class_raised_in_second_version: classRaised(), definition_file_missing: fileMissing() };
}
