// SPDX-License-Identifier: Apache-2.0
// Writes the vectors of the scripts beside this one to tests/vectors. Run in the repository's root:
//
//   node tests/static/folds/write_vectors.mjs
import { writeFileSync } from "node:fs";
import { load } from "../load.mjs";

const writers = [
  ["tally", "./write_vectors.ts"],
  ["tally", "./write_author_vectors.ts"],
  ["tally", "./write_definition_vectors.ts"],
  ["holds", "./write_hold_vectors.ts"],
  ["bench", "./write_bench_vectors.ts"],
  ["bench", "./write_look_vectors.ts"],
  ["admitted", "./write_admitted_vectors.ts"],
];
for (const [fold, writer] of writers) {
  const module = await load(writer, import.meta.url);
  for (const [name, vector] of Object.entries(module.vectors())) {
    const file = new URL(`../../vectors/${fold}/${name}.json`, import.meta.url);
    writeFileSync(file, `${JSON.stringify(vector, undefined, 2)}\n`);
  }
}
