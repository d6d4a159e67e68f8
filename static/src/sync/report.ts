// SPDX-License-Identifier: Apache-2.0
import { postAny, readAny } from "../api/requests.js";
import type { Read } from "./contract.js";
import { codeOf } from "./enrolment.js";

/**
 * Ask for what is no record, as whoever is signed on.
 *
 * body      left out for a read
 * onEnded   hears that the session ended: it is renewed, and the screen asks again
 */
export async function readReport(
  path: string,
  body: object | undefined,
  signOn: string | undefined,
  onEnded: () => void,
): Promise<Read> {
  const answer = await (body === undefined ? readAny(path, signOn) : postAny(path, body, signOn));
  if (answer.sort === "ours") return { ok: true, value: answer.value };
  if (answer.sort === "refused" && answer.status === 401) onEnded();
  return { ok: false, code: codeOf(answer) };
}
