// SPDX-License-Identifier: Apache-2.0
import { readAny } from "../api/requests.js";
import type { Read } from "./contract.js";

/** Read a report as whoever is signed on; `onEnded` hears that the session ended: it is renewed, and the screen asks again. */
export async function readReport(
  path: string,
  signOn: string | undefined,
  onEnded: () => void,
): Promise<Read> {
  const answer = await readAny(path, signOn);
  if (answer.sort === "ours") return { ok: true, value: answer.value };
  if (answer.sort !== "refused") return { ok: false, code: answer.sort.replace("_", "-") };
  if (answer.status === 401) onEnded();
  return { ok: false, code: answer.code };
}
