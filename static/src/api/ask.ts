// SPDX-License-Identifier: Apache-2.0
// The one fetch. An answer is ours when status, content type, marker, protocol and shape are; a sign-in page of a
// network, an error page of a proxy and half an answer are not, and say nothing about the records.
import { anything, type Shape } from "../records/shape.js";
import { refusalShape, signature, type RefusalAnswer } from "./answers.js";

export const JSON_TYPE = "application/json";
export const LINES_TYPE = "application/x-ndjson";
export const FILE_TYPE = "application/octet-stream";

export type Answer<T> =
  | { readonly sort: "ours"; readonly value: T; readonly text: string; readonly timing: Timing }
  | { readonly sort: "refused"; readonly status: number; readonly code: string; readonly retry: boolean }
  | { readonly sort: "not_ours"; readonly status: number }
  | { readonly sort: "no_answer" };

/** When the request left and its answer came, on the page's steady clock [ms]. */
export interface Timing {
  readonly sent: number;
  readonly came: number;
}

export interface Ask {
  readonly path: string;
  /** The body of a POST; a GET has none. */
  readonly body?: string | Uint8Array<ArrayBuffer>;
  readonly type?: typeof JSON_TYPE | typeof LINES_TYPE | typeof FILE_TYPE;
  /** The sign-on in whose hands the tablet is, for what is open to some roles only. */
  readonly signOn?: string | undefined;
  /** What the answer must be: one JSON object, or lines of which the first is one. */
  readonly expects?: typeof JSON_TYPE | typeof LINES_TYPE;
  readonly shape: Shape;
  readonly timeout: number;
}

export async function ask<T>(question: Ask): Promise<Answer<T>> {
  const expects = question.expects ?? JSON_TYPE;
  const sent = performance.now();
  let response: Response;
  let text: string;
  try {
    response = await fetch(question.path, optionsOf(question));
    text = await response.text();
  } catch {
    // A network that is away, a time-out, and a body that was cut while it came.
    return { sort: "no_answer" };
  }
  const timing = { sent, came: performance.now() };
  const type = response.headers.get("content-type")?.split(";")[0]?.trim();
  if (!response.ok) return refusalOf(response.status, type, text);
  if (type !== expects || response.redirected) return { sort: "not_ours", status: response.status };
  const value = parsed(expects === LINES_TYPE ? firstLine(text) : text);
  if (signature(value) !== undefined || question.shape(value) !== undefined) {
    return { sort: "not_ours", status: response.status };
  }
  return { sort: "ours", value: value as T, text, timing };
}

/** A read that brings bytes of a type, and no answer of ours around them. */
export async function askText(path: string, expects: string, timeout: number): Promise<Answer<string>> {
  const sent = performance.now();
  try {
    const response = await fetch(path, optionsOf({ path, timeout, shape: anything }));
    const text = await response.text();
    const type = response.headers.get("content-type")?.split(";")[0]?.trim();
    if (!response.ok) return refusalOf(response.status, type, text);
    if (type !== expects || response.redirected) return { sort: "not_ours", status: response.status };
    return { sort: "ours", value: text, text, timing: { sent, came: performance.now() } };
  } catch {
    return { sort: "no_answer" };
  }
}

function optionsOf({ body, type, signOn, timeout }: Ask): RequestInit {
  const headers: Record<string, string> = signOn === undefined ? {} : { "tallywright-sign-on": signOn };
  const options: RequestInit = {
    credentials: "same-origin",
    cache: "no-store",
    redirect: "follow",
    headers,
    signal: AbortSignal.timeout(timeout),
  };
  return body === undefined
    ? options
    : { ...options, method: "POST", body, headers: { ...headers, "content-type": type ?? JSON_TYPE } };
}

function refusalOf(status: number, type: string | undefined, text: string): Answer<never> {
  const value = type === JSON_TYPE ? parsed(text) : undefined;
  if (signature(value) !== undefined || refusalShape(value) !== undefined)
    return { sort: "not_ours", status };
  const { code, retry } = value as RefusalAnswer;
  return { sort: "refused", status, code, retry };
}

function firstLine(text: string): string {
  const end = text.indexOf("\n");
  return end < 0 ? "" : text.slice(0, end);
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
