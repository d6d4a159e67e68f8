// SPDX-License-Identifier: Apache-2.0
// The server's addresses, one function each.
import type { Copies, Page, SignedLine } from "../folds/copies.js";
import {
  anyShape,
  arrivedShape,
  batchesShape,
  challengeShape,
  enrolmentShape,
  PROTOCOL,
  pullHeadShape,
  pushShape,
  reachShape,
  sessionShape,
  worksShape,
  type ArrivedAnswer,
  type BatchesAnswer,
  type ChallengeAnswer,
  type EnrolmentAnswer,
  type PullHead,
  type PushAnswer,
  type ReachAnswer,
  type SessionAnswer,
  type WorksAnswer,
} from "./answers.js";
import { ask, askText, FILE_TYPE, LINES_TYPE, type Answer } from "./ask.js";

const ROOT = "/api/v1";
const SHORT_MS = 10_000;
const LONG_MS = 60_000;
/** As many marks as one push may ask for. */
const MOST_MARKS = 100;

/** A stretch of one chain, its lines, and the device's signature over its end. */
export interface Run {
  readonly chain: string;
  readonly first: number;
  readonly last: number;
  readonly signature: string;
  readonly lines: readonly string[];
}

export function readWorks(): Promise<Answer<WorksAnswer>> {
  return ask({ path: `${ROOT}/works`, shape: worksShape, timeout: SHORT_MS });
}

/** Where this server is opened instead, and where a device learns to trust it. */
export function readReach(): Promise<Answer<ReachAnswer>> {
  return ask({ path: `${ROOT}/reach`, shape: reachShape, timeout: SHORT_MS });
}

/** How a device asks to be let in: in a demo works, with a code, or with the link for the first administrator. */
export type Asking =
  | { readonly by: "demo"; readonly name: string }
  | { readonly by: "code"; readonly name: string; readonly code: string }
  | {
      readonly by: "first";
      readonly name: string;
      readonly code: string;
      readonly person: string;
      readonly pin: string;
    };

const DOORS = { demo: "/demo", code: "", first: "/first" } as const;

export function enrolDevice(
  { by, ...question }: Asking,
  publicKey: string,
): Promise<Answer<EnrolmentAnswer>> {
  return ask({
    path: `${ROOT}/enrolments${DOORS[by]}`,
    body: JSON.stringify({ ...question, public_key: publicKey }),
    shape: enrolmentShape,
    timeout: SHORT_MS,
  });
}

/** How it stands with a device that waits for an administrator's yes. */
export function askEnrolment(publicKey: string): Promise<Answer<EnrolmentAnswer>> {
  return ask({
    path: `${ROOT}/enrolments/asked`,
    body: JSON.stringify({ public_key: publicKey }),
    shape: enrolmentShape,
    timeout: SHORT_MS,
  });
}

export function askChallenge(device: string): Promise<Answer<ChallengeAnswer>> {
  return ask({
    path: `${ROOT}/sessions/challenges`,
    body: JSON.stringify({ device }),
    shape: challengeShape,
    timeout: SHORT_MS,
  });
}

export function openSession(
  device: string,
  challenge: string,
  signature: string,
): Promise<Answer<SessionAnswer>> {
  return ask({
    path: `${ROOT}/sessions`,
    body: JSON.stringify({ device, challenge, signature }),
    shape: sessionShape,
    timeout: SHORT_MS,
  });
}

/** A sealed PIN, in base64, that travels beside its sign-on. */
export interface Enclosed {
  readonly record: string;
  readonly sealed: string;
}

/** A record the server has answered for, of a chain that was left behind. */
export interface Answered {
  readonly chain: string;
  readonly n: number;
  readonly hash: string;
}

/**
 * Push a run, or ask for the chain's mark alone; sealed PINs travel with either.
 *
 * marks     further chains whose marks are wanted
 * answered  records of which the answer says whether the server still has them
 */
export function push(
  chain: string,
  run: Run | undefined,
  enclosures: readonly Enclosed[] = [],
  marks: readonly string[] = [],
  answered: readonly Answered[] = [],
): Promise<Answer<PushAnswer>> {
  const runs = run === undefined ? [] : [run];
  const asked = { marks: [chain, ...marks].slice(0, MOST_MARKS), answered: answered.slice(0, MOST_MARKS) };
  return pushRuns(runs, asked, enclosures);
}

/** Give the server lines of its own back, each a run by itself under the signature it came with. */
export function giveBack(lines: readonly SignedLine[]): Promise<Answer<PushAnswer>> {
  const runs = lines.map(({ chain, n, line, signature }) => ({
    chain,
    first: n,
    last: n,
    signature,
    lines: [line],
  }));
  return pushRuns(runs, { marks: [], answered: [] }, []);
}

function pushRuns(
  runs: readonly Run[],
  asked: { readonly marks: readonly string[]; readonly answered: readonly Answered[] },
  enclosures: readonly Enclosed[],
): Promise<Answer<PushAnswer>> {
  const lines = runs.flatMap((run) => run.lines);
  const head = {
    protocol: PROTOCOL,
    count: lines.length,
    runs: runs.map(({ chain, first, last, signature }) => ({ chain, first, last, signature })),
    ...asked,
    enclosures,
  };
  return ask({
    path: `${ROOT}/sync/push`,
    body: [JSON.stringify(head), ...lines].map((line) => `${line}\n`).join(""),
    type: LINES_TYPE,
    shape: pushShape,
    timeout: runs.length === 0 ? SHORT_MS : LONG_MS,
  });
}

/**
 * One page of what is works-wide and of the pairs, without the records of its own chain that the tablet holds.
 *
 * chains  the one in use, then those left behind whose sign-ons are not judged yet
 * kept    of the chain in use the first number the tablet holds
 */
export async function pull(
  chains: readonly string[],
  kept: number,
  after: string | undefined,
  carry: Copies["pairs"],
  head: Copies["head"],
): Promise<Answer<{ head: PullHead; page: Page }>> {
  const query = new URLSearchParams();
  if (after !== undefined) query.set("after", after);
  for (const [pair, { cursor }] of Object.entries(carry)) {
    query.append("carry", cursor === undefined ? pair : `${pair}@${cursor}`);
  }
  for (const chain of chains) query.append("chain", chain);
  if (kept > 1) query.set("kept", String(kept));
  if (head !== undefined) query.set("head", `${head.chain}:${head.n}.${head.hash}.${head.signature}`);
  const answer = await ask<PullHead>({
    path: `${ROOT}/sync/pull?${query.toString()}`,
    expects: LINES_TYPE,
    shape: pullHeadShape,
    timeout: LONG_MS,
  });
  if (answer.sort !== "ours") return answer;
  const lines = linesBehindHead(answer.text, answer.value.count);
  // A body that was cut on its way changes nothing.
  if (lines === undefined) return { sort: "not_ours", status: 200 };
  const { epoch, cursor, more, server_time: as_of, sealing, sign_ons, head: newest } = answer.value;
  const { certificate_ends_at, signatures } = answer.value;
  const pairs = Object.keys(carry);
  const page: Page = {
    epoch,
    cursor,
    more,
    pairs,
    lines,
    as_of,
    sealing,
    sign_ons,
    head: newest,
    signatures: Object.fromEntries(signatures.map(({ record, signature }) => [record, signature])),
    certificate_ends_at,
  };
  return { ...answer, value: { head: answer.value, page } };
}

/** The lines behind the head, or undefined when there are not as many whole ones as it announces. */
export function linesBehindHead(text: string, count: number): readonly string[] | undefined {
  if (!text.endsWith("\n")) return undefined;
  const lines = text.slice(0, -1).split("\n").slice(1);
  return lines.length === count ? lines : undefined;
}

export function listBatches(): Promise<Answer<BatchesAnswer>> {
  return ask({ path: `${ROOT}/batches`, shape: batchesShape, timeout: SHORT_MS });
}

/** A read whose content the asking room checks; its path begins with the API's root. */
export function readAny(path: string, signOn: string | undefined): Promise<Answer<unknown>> {
  const whole = path.startsWith(ROOT) ? path : `${ROOT}${path}`;
  return ask({ path: whole, signOn, shape: anyShape, timeout: SHORT_MS });
}

/** The same with a body. */
export function postAny(path: string, body: object, signOn: string | undefined): Promise<Answer<unknown>> {
  return ask({
    path: `${ROOT}${path}`,
    body: JSON.stringify(body),
    signOn,
    shape: anyShape,
    timeout: SHORT_MS,
  });
}

/** The text of a file that a record names by the SHA-256 of its bytes; whoever asks checks it against the name. */
export function readFile(file: string): Promise<Answer<string>> {
  return askText(`${ROOT}/files/${file}`, FILE_TYPE, LONG_MS);
}

/** How far the server holds a file that this device sends. */
export function askFile(file: string): Promise<Answer<ArrivedAnswer>> {
  return ask({ path: `${ROOT}/files/${file}/parts`, shape: arrivedShape, timeout: SHORT_MS });
}

/** Some bytes of a file, from an offset on. */
export function sendPart(
  file: string,
  offset: number,
  bytes: Uint8Array<ArrayBuffer>,
): Promise<Answer<ArrivedAnswer>> {
  return ask({
    path: `${ROOT}/files/${file}/parts?offset=${offset}`,
    body: bytes,
    type: FILE_TYPE,
    shape: arrivedShape,
    timeout: LONG_MS,
  });
}
