// SPDX-License-Identifier: Apache-2.0
// Carries out the requests the core wants, and says as an event what came of each.
import type { ArrivedAnswer } from "../api/answers.js";
import type { Answer } from "../api/ask.js";
import { askFile, giveBack, listBatches, pull, push, readFile, sendPart, type Run } from "../api/requests.js";
import { hashOf } from "../records/hash.js";
import type { ReadRecord } from "../records/kinds.js";
import type { CoreEvent, Effect } from "./core.js";
import { failureOf, renewSession } from "./enrolment.js";
import type { Identity } from "./identity.js";
import { lastAnswered, type Sending } from "./outbox.js";
import type { ServerClock } from "./server_clock.js";
import { signRun } from "./signing.js";

/** An event before it is given its time and its chance. */
export type Outcome = CoreEvent extends infer E
  ? E extends CoreEvent
    ? Omit<E, "now" | "chance">
    : never
  : never;

export interface Asker {
  readonly identity: Identity;
  /** The chains that were left behind: their marks are asked for, too, and whether the server still has them. */
  readonly former: readonly Sending[];
  /** The own records of a chain, as far as they are in the journal. */
  readonly own: (chain: string) => readonly ReadRecord[];
  /** Base64 of the sealed PINs that were not judged yet, by sign-on. */
  readonly enclosures: ReadonlyMap<string, string>;
  readonly clock: ServerClock;
  /** Some bytes of a photo in the store; undefined where they are gone. */
  readonly readPhoto: (
    file: string,
    offset: number,
    length: number,
  ) => Promise<Uint8Array<ArrayBuffer> | undefined>;
}

/** What is asked of the server; the rest the store does. */
export type Request = Exclude<
  Effect,
  { effect: "keep" | "open_chain" | "forget" | "turn_over" | "drop_photo" }
>;

/** True when the outcome is something the server said, and be it a refusal. */
export function isFromServer(outcome: Outcome): boolean {
  return !("why" in outcome) || (outcome.why !== "no_answer" && outcome.why !== "not_ours");
}

/** Carry out a request. It always ends in an outcome: the core waits for one before it asks again. */
export async function carryOut(request: Request, asker: Asker): Promise<Outcome> {
  try {
    return await outcomeOf(request, asker);
  } catch {
    // The browser refused to sign or to send; to the core that is a request that never left.
    if (request.effect === "ask_photo" || request.effect === "send_photo")
      return { event: "photo_failed", file: request.file, why: "no_answer" };
    return { event: FAILED[request.effect], why: "no_answer" };
  }
}

const FAILED = {
  push: "send_failed",
  ask_mark: "send_failed",
  pull: "pull_failed",
  renew_session: "not_renewed",
  list_batches: "list_failed",
  fetch_file: "file_failed",
  give_back: "not_given_back",
} as const;

async function outcomeOf(request: Request, asker: Asker): Promise<Outcome> {
  switch (request.effect) {
    case "push":
      return pushRun(asker, request, await signedRun(asker, request));
    case "ask_mark":
      return pushRun(asker, request, undefined);
    case "pull":
      return pullPage(asker, request);
    case "renew_session": {
      const why = await renewSession(asker.identity);
      return why === undefined ? { event: "renewed" } : { event: "not_renewed", why };
    }
    case "list_batches": {
      const answer = await listBatches();
      if (answer.sort !== "ours") return { event: "list_failed", why: failureOf(answer) };
      return { event: "listed", batches: { as_of: answer.value.as_of, lines: answer.value.batches } };
    }
    case "fetch_file": {
      const { file } = request;
      const answer = await readFile(file);
      if (answer.sort !== "ours") return { event: "file_failed", why: failureOf(answer) };
      // What another station put in its place is not what the record names.
      if (hashOf(answer.text) !== file) return { event: "file_failed", why: "not_ours" };
      return { event: "file_fetched", file, text: answer.text };
    }
    case "give_back":
      return givenBack(request);
    case "ask_photo":
      return arrived(request.file, await askFile(request.file));
    case "send_photo": {
      const { file, offset, length } = request;
      const bytes = await asker.readPhoto(file, offset, length);
      // What the disk lost nobody can send; it is said, and keeps no other photo waiting.
      if (bytes === undefined) return { event: "photo_failed", file, why: "file_refused" };
      return arrived(file, await sendPart(file, offset, bytes));
    }
  }
}

const OF_A_FILE = {
  "file-not-named": "not_named",
  "file-broken": "broken",
  "file-refused": "file_refused",
} as const;

function arrived(file: string, answer: Answer<ArrivedAnswer>): Outcome {
  if (answer.sort === "ours" && answer.value.file === file) {
    const { held, whole: isWhole, safe: isSafe } = answer.value;
    return { event: "photo_heard", file, held, isWhole, isSafe };
  }
  if (answer.sort === "ours") return { event: "photo_failed", file, why: "not_ours" };
  const code = answer.sort === "refused" ? answer.code : "";
  const why = code in OF_A_FILE ? OF_A_FILE[code as keyof typeof OF_A_FILE] : failureOf(answer);
  return { event: "photo_failed", file, why };
}

async function givenBack({ lines, texts }: Request & { effect: "give_back" }): Promise<Outcome> {
  const answer = await giveBack(lines);
  if (answer.sort !== "ours") return { event: "not_given_back", why: failureOf(answer) };
  // A file is taken for the line that names it. One that the server will not have keeps no other line from it.
  for (const text of texts) {
    const taken = await sendPart(hashOf(text), 0, new TextEncoder().encode(text));
    if (taken.sort === "ours") continue;
    const why = failureOf(taken);
    if (why !== "refused" && why !== "too_much") return { event: "not_given_back", why };
  }
  return { event: "given_back", lines };
}

async function signedRun({ identity, own }: Asker, request: Request & { effect: "push" }): Promise<Run> {
  const { chain, first, last } = request;
  const records = own(chain).filter(({ n }) => first <= n && n <= last);
  const hash = records.at(-1)?.hash ?? "";
  const signature = await signRun(identity.keys, chain, last, hash);
  return { chain, first, last, signature, lines: records.map((record) => record.line) };
}

async function pushRun(
  { clock, enclosures, former }: Asker,
  { chain, enclosures: ids }: Request & { effect: "push" | "ask_mark" },
  run: Run | undefined,
): Promise<Outcome> {
  const beside = ids.flatMap((record) => {
    const sealed = enclosures.get(record);
    return sealed === undefined ? [] : [{ record, sealed }];
  });
  const names = former.map((one) => one.chain);
  const answered = former.flatMap((one) => {
    const last = lastAnswered(one);
    return last === undefined ? [] : [{ chain: one.chain, ...last }];
  });
  const answer = await push(chain, run, beside, names, answered);
  if (answer.sort !== "ours") return { event: "send_failed", why: failureOf(answer) };
  const { epoch, server_time, marks, exceptions, lost } = answer.value;
  const mark = marks.find((one) => one.chain === chain);
  if (mark === undefined) return { event: "send_failed", why: "not_ours" };
  clock.hear(server_time, answer.timing);
  const own = exceptions.filter((one) => one.chain === chain).map(({ n, code }) => ({ n, code }));
  return {
    event: "marked",
    mark: { epoch, n: mark.n, hash: mark.hash, held: mark.held, exceptions: own, safe: mark.safe },
    former: marks.filter((one) => names.includes(one.chain)),
    lost,
  };
}

/** Chains that are asked for in one pull; the server takes no more. */
const MOST_CHAINS = 20;

async function pullPage(
  { own, clock, enclosures }: Asker,
  { chain, ...request }: Request & { effect: "pull" },
): Promise<Outcome> {
  // The judgement of a sign-on lies under its chain, and that may have been left behind since.
  const waiting = [...enclosures.keys()].map((signOn) => signOn.split(":", 1)[0] ?? "");
  const chains = [...new Set([chain, ...waiting])].slice(0, MOST_CHAINS);
  const kept = own(chain)[0]?.n ?? 1;
  const answer = await pull(chains, kept, request.after, request.carry, request.head);
  if (answer.sort === "ours") {
    clock.hear(answer.value.head.server_time, answer.timing);
    const { head, page } = answer.value;
    return { event: "pulled", page: { ...page, chain }, newest: head.chain_newest };
  }
  if (answer.sort === "refused" && answer.code === "cursor-void") return { event: "cursor_void" };
  return { event: "pull_failed", why: failureOf(answer) };
}
