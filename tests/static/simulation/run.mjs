// SPDX-License-Identifier: Apache-2.0
// The simulator on the command line; `python -m tests.simulation` starts it. Run in the repository's root, after
// `npm ci` in static/:
//
//   node tests/static/simulation/run.mjs WORDS    WORDS is JSON: {python, folder, seed, pushes, seconds, busy}
//                                                 or {python, folder, plan} for one world again; what a plan
//                                                 leaves out is as in a run
import { spawn } from "node:child_process";
import { Buffer } from "node:buffer";
import process from "node:process";
import { createInterface } from "node:readline";
import { load } from "../load.mjs";

const wanted = JSON.parse(process.argv[2]);
const server = spawn(wanted.python, ["-m", "tests.simulation.server", wanted.folder], {
  stdio: ["pipe", "pipe", "inherit"],
});

let serving;
let hear;
createInterface({ input: server.stdout }).on("line", (line) => {
  const said = JSON.parse(line);
  if (said.born !== undefined) serving = said.born;
  hear?.(said);
});
const next = () => new Promise((resolve) => (hear = resolve));
server.on("exit", (code) => {
  if (code !== 0) process.exit(2);
});
await next();

const child = {
  // A worker that is born in place of an answer took the place of one that is gone.
  do: async ({ body, ...question }) => {
    const answer = next();
    const sent = body === undefined ? question : { ...question, body: Buffer.from(body).toString("base64") };
    server.stdin.write(`${JSON.stringify(sent)}\n`);
    const said = await answer;
    if (said.born !== undefined) return undefined;
    return typeof said.body === "string"
      ? { ...said, body: new Uint8Array(Buffer.from(said.body, "base64")) }
      : said;
  },
  kill: async () => {
    const born = next();
    process.kill(serving, "SIGKILL");
    await born;
  },
};

const say = (line) => process.stderr.write(`${line}\n`);
const { planOf, simulate } = await load("./run.ts", import.meta.url);
const { World } = await load("./world.ts", import.meta.url);
const told =
  wanted.plan === undefined
    ? await simulate(wanted, child, say)
    : await World.run({ ...planOf(wanted.plan.seed), ...wanted.plan }, child);
process.stdout.write(`${JSON.stringify(told)}\n`);
server.stdin.end();
