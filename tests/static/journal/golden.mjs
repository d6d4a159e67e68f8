// SPDX-License-Identifier: Apache-2.0
// Makes a tablet's files for tests/golden/make.py: what the server told on standard input, the files on standard output.
import process from "node:process";
import { load } from "../load.mjs";

const golden = await load("./golden.ts", import.meta.url);
const pieces = [];
for await (const piece of process.stdin) pieces.push(piece);
process.stdout.write(JSON.stringify(await golden.make(JSON.parse(Buffer.concat(pieces).toString()))));
