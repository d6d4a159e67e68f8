// SPDX-License-Identifier: Apache-2.0
import type { Answer } from "../api/ask.js";
import {
  askChallenge,
  askEnrolment,
  enrolDevice,
  openSession,
  readWorks,
  type Asking,
} from "../api/requests.js";
import type { Failure } from "./core.js";
import { writeIdentity, type Identity } from "./identity.js";
import type { ServerClock } from "./server_clock.js";
import { makeKeys, publicText, signChallenge } from "./signing.js";

export type Enrolled = { readonly identity: Identity } | { readonly code: string };

const WORKS_AGAIN_MS = 5_000;
const ASKS_AGAIN_MS = 3_000;

/** Ask whether the works is a demo until it is known, or until nobody wants to know any more. */
export async function askDemo(isWanted: () => boolean): Promise<boolean | undefined> {
  while (isWanted()) {
    const answer = await readWorks();
    if (answer.sort === "ours") return answer.value.demo;
    await new Promise((resolve) => setTimeout(resolve, WORKS_AGAIN_MS));
  }
  return undefined;
}

/**
 * Make a key, ask to be let in, wait for an administrator's yes where one is due, and keep who we are.
 *
 * onWaiting   told the six digits that the administrator compares, while the device waits
 */
export async function enrol(
  asking: Asking,
  clock: ServerClock,
  onWaiting: (number: string) => void,
): Promise<Enrolled> {
  const keys = await makeKeys();
  const publicKey = await publicText(keys);
  let answer = await enrolDevice(asking, publicKey);
  let isWaiting = answer.sort === "ours" && answer.value.state === "waiting";
  while (isWaiting) {
    if (answer.sort === "ours") onWaiting(answer.value.number);
    await new Promise((resolve) => setTimeout(resolve, ASKS_AGAIN_MS));
    answer = await askEnrolment(publicKey);
    // Contact that is lost while somebody walks to the office ends nothing, nor does a server that is busy.
    isWaiting = answer.sort === "ours" ? answer.value.state === "waiting" : mayHelpLater(answer);
  }
  if (answer.sort !== "ours") return { code: codeOf(answer) };
  const { device, letters, site, server_time } = answer.value;
  // The first record is made in a moment, and its time should not be doubtful.
  clock.hear(server_time, answer.timing);
  const identity: Identity = { keys, device, letters, site };
  try {
    await writeIdentity(identity);
  } catch {
    return { code: "no-store" };
  }
  // The first read would ask for it anyway; without contact that is where it comes from.
  await renewSession(identity);
  return { identity };
}

/** Open a session by signing a challenge; undefined when it is open. */
export async function renewSession(identity: Identity): Promise<Failure | undefined> {
  const challenge = await askChallenge(identity.device);
  if (challenge.sort !== "ours") return failureOf(challenge);
  const text = challenge.value.challenge;
  const answer = await openSession(
    identity.device,
    text,
    await signChallenge(identity.keys, identity.device, text),
  );
  return answer.sort === "ours" ? undefined : failureOf(answer);
}

/** Whether asking again can bring another answer than this one. */
function mayHelpLater(answer: Failed): boolean {
  return answer.sort !== "refused" || answer.retry || answer.status >= 500;
}

type Failed = Exclude<Answer<never>, { sort: "ours" }>;

/** What an answer that brought nothing means for the core. */
export function failureOf(answer: Failed): Failure {
  if (answer.sort === "no_answer") return "no_answer";
  // A way station may say so too, and means the same.
  if (answer.status === 413) return "too_much";
  if (answer.sort === "not_ours") return "not_ours";
  if (answer.status === 401) return "session";
  if (CANNOT_WRITE.includes(answer.code)) return "cannot_write";
  return answer.retry ? "busy" : "refused";
}

/** What somebody has to mend before anything more is kept. */
const CANNOT_WRITE: readonly string[] = ["not-writable", "store-full"];

/** The code of an answer that brought nothing, for the screens' catalogues. */
export function codeOf(answer: Failed): string {
  if (answer.sort === "refused") return answer.code;
  return answer.sort === "not_ours" ? "not-ours" : "no-answer";
}
