// SPDX-License-Identifier: Apache-2.0
// The tablet's records on the command line, for the test that holds both languages to the same bytes.
// Run in the repository's root, after `npm ci` in static/:
//
//   node tests/static/records/exchange.mjs write SEED COUNT    prints COUNT record lines of one chain, of all kinds
//   node tests/static/records/exchange.mjs check < lines       prints "<hash>" or "refused <code>" for each line
//
// A line is what stands between two line feeds, as bytes: bytes that are not UTF-8 are refused as unreadable.
import process from "node:process";
import { load } from "../load.mjs";

const exchange = await load("./exchange.ts", import.meta.url);

async function standardInput() {
  const pieces = [];
  for await (const piece of process.stdin) pieces.push(piece);
  return new Uint8Array(Buffer.concat(pieces));
}

const [verb, seed, count] = process.argv.slice(2);
if (verb === "write" && seed !== undefined && count !== undefined) {
  process.stdout.write(
    exchange
      .write(Number(seed), Number(count))
      .map((line) => `${line}\n`)
      .join(""),
  );
} else if (verb === "check") {
  process.stdout.write(
    exchange
      .check(await standardInput())
      .map((verdict) => `${verdict}\n`)
      .join(""),
  );
} else {
  process.stderr.write("Say 'write SEED COUNT' or 'check'.\n");
  process.exitCode = 2;
}
