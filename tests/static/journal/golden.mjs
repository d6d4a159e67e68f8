// SPDX-License-Identifier: Apache-2.0
// Makes a tablet's files for tests/golden/make.py: what the server told on standard input, the files on standard output.
import { createRequire } from "node:module";
import { fileURLToPath, pathToFileURL } from "node:url";
import process from "node:process";

const packages = createRequire(new URL("../../../static/package.json", import.meta.url));
const { runnerImport } = await import(pathToFileURL(packages.resolve("vite")).href);
const { module: golden } = await runnerImport(fileURLToPath(new URL("./golden.ts", import.meta.url)), {
  root: fileURLToPath(new URL("../../../static", import.meta.url)),
  configFile: false,
  logLevel: "error",
});
const pieces = [];
for await (const piece of process.stdin) pieces.push(piece);
process.stdout.write(JSON.stringify(await golden.make(JSON.parse(Buffer.concat(pieces).toString()))));
