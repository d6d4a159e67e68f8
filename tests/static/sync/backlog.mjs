// SPDX-License-Identifier: Apache-2.0
// A tablet's backlog on the command line. Run in the repository's root, after `npm ci` in static/:
//
//   node tests/static/sync/backlog.mjs ADDRESS FOLDER MARKS [MARKS OF A BATCH]
//
// It sends MARKS marks and a photo for each file of FOLDER; all marks are of one batch if nothing else is said.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import process from "node:process";
import { load } from "../load.mjs";

const module = await load("./backlog.ts", import.meta.url);
const [address, folder, marks, aBatch = "0"] = process.argv.slice(2);
const pictures = readdirSync(folder).map((name) => Uint8Array.from(readFileSync(join(folder, name))));
process.stdout.write(
  `${JSON.stringify(await module.sendBacklog(address, pictures, Number(marks), Number(aBatch)))}\n`,
);
process.exit(0);
