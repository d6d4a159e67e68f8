// SPDX-License-Identifier: Apache-2.0
// A stable code becomes a sentence: what happened, and what to do.
import { say, type Key } from "./say.js";

const SENTENCES: Readonly<Record<string, Key>> = {
  "code-refused": "error.code-refused",
  "no-answer": "error.no-contact",
  "not-ours": "error.not-ours",
  "enrolled-before": "error.enrolled-before",
  "not-enrolled": "error.not-enrolled",
  "pin-refused": "error.pin-refused",
  "role-needed": "error.role-needed",
  "not-found": "error.not-found",
  "batch-unknown": "error.batch-unknown",
  "not-allowed": "error.not-allowed",
  "request-not-understood": "error.request-not-understood",
  "too-many-tries": "error.too-many-tries",
  "not-ready": "error.not-ready",
  "not-writable": "error.not-writable",
  "store-full": "error.store-full",
};

export function sayError(code: string): string {
  return say(SENTENCES[code] ?? "error.other", { code });
}
