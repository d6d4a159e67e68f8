// SPDX-License-Identifier: Apache-2.0
// The tablet's folds on the command line, for the test that holds both languages to the same states. Run in the
// repository's root, after `npm ci` in static/:
//
//   node tests/static/folds/fold_batches.mjs < cases           prints one state for each case
//   node tests/static/folds/fold_batches.mjs checks < cases    the same of the checks at the machines
//
// The first line of the input has the definitions by id; each further one is a case {records, proven}.
import process from "node:process";
import { load } from "../load.mjs";

const { foldBench } = await load("../../../static/src/folds/bench.ts", import.meta.url);
const { foldChecks } = await load("../../../static/src/folds/checks.ts", import.meta.url);
const { decode } = await load("../../../static/src/records/read.ts", import.meta.url);

const fold = process.argv[2] === "checks" ? foldChecks : foldBench;
const pieces = [];
for await (const piece of process.stdin) pieces.push(piece);
const [first, ...cases] = Buffer.concat(pieces).toString("utf8").trimEnd().split("\n");
const definitions = new Map(Object.entries(JSON.parse(first)));
const states = cases.map((text) => {
  const { records, proven } = JSON.parse(text);
  return JSON.stringify(fold(records.map(decode), definitions, new Map(Object.entries(proven))));
});
process.stdout.write(states.map((state) => `${state}\n`).join(""));
