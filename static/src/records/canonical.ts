// SPDX-License-Identifier: Apache-2.0
// The one byte form of a value: RFC 8785 for objects, arrays, strings, booleans and integers within 2^53 - 1.
import { RefusedRecord } from "./refused.js";
import { isWellFormed } from "./utf8.js";

const MEMBER_NAME = /^[a-z][a-z0-9_]*$/;
/** How deep a body may be nested; the server has the same bound. */
export const DEEPEST = 32;

/**
 * The canonical text of a value. Members that are undefined are left out, because what is not known is left out.
 *
 * throws RefusedRecord for what the form has no place for
 */
export function canonical(value: unknown): string {
  return write(value, 0);
}

function write(value: unknown, depth: number): string {
  // The envelope is one level above the bodies that the bound is meant for.
  if (depth > DEEPEST + 1) throw notCanonical(`The record is nested deeper than ${DEEPEST}.`);
  if (typeof value === "string") return writeText(value);
  if (typeof value === "boolean") return value ? "true" : "false";
  if (typeof value === "number") return writeInteger(value);
  if (Array.isArray(value)) return `[${value.map((entry) => write(entry, depth + 1)).join(",")}]`;
  if (typeof value === "object" && value !== null) return writeObject(value, depth);
  throw notCanonical(
    "A record has no null and nothing but objects, arrays, texts, true, false and integers.",
  );
}

function writeObject(value: object, depth: number): string {
  const members = Object.entries(value).filter(([, entry]) => entry !== undefined);
  for (const [name] of members) {
    if (!MEMBER_NAME.test(name)) {
      throw notCanonical(`The member name '${name.slice(0, 40)}' is not lower-case ASCII.`);
    }
  }
  members.sort(([left], [right]) => (left < right ? -1 : 1));
  return `{${members.map(([name, entry]) => `"${name}":${write(entry, depth + 1)}`).join(",")}}`;
}

function writeInteger(value: number): string {
  if (!Number.isSafeInteger(value)) {
    throw notCanonical("A record has no number with a point or an exponent, and none beyond 2^53 - 1.");
  }
  return String(value);
}

function writeText(value: string): string {
  if (value.includes("\u0000")) throw notCanonical("A text holds U+0000.");
  // Such a text has no bytes at all, so no reader could have read it.
  if (!isWellFormed(value)) {
    throw new RefusedRecord("unreadable", "A text holds half of a surrogate pair.");
  }
  return JSON.stringify(value);
}

function notCanonical(sentence: string): RefusedRecord {
  return new RefusedRecord("not-canonical", sentence);
}
