// SPDX-License-Identifier: Apache-2.0
// One line of a store's file: the length of its bytes, their checksum, the bytes, a line feed. All of it is
// text, so that a file that was saved from a broken tablet can be read with any editor.
import { utf8Bytes } from "../records/utf8.js";

const DIGITS = 8;
const CHECKSUM_AT = DIGITS + 1;
const HEAD = 2 * DIGITS + 2;
const BLANK = 0x20;
const LINE_FEED = 0x0a;

/** What a file holds: its whole lines, and where it is broken, if it is. */
export interface Scan {
  readonly texts: readonly string[];
  /** Where the unbroken run of lines from the beginning ends. */
  readonly end: number;
  /** The place of the first broken line that has whole ones behind it. */
  readonly brokenAt: number | undefined;
  /** Of the whole lines those before which something is broken. */
  readonly behindBroken: ReadonlySet<number>;
}

/** The bytes of a line. */
export function frame(text: string): Uint8Array<ArrayBuffer> {
  const bytes = utf8Bytes(text);
  const framed = new Uint8Array(HEAD + bytes.length + 1);
  framed.set(utf8Bytes(`${digits(bytes.length)} ${digits(checksum(bytes))} `));
  framed.set(bytes, HEAD);
  framed[framed.length - 1] = LINE_FEED;
  return framed;
}

/** Read all whole lines of a file, those behind a broken one too. */
export function scan(file: Uint8Array): Scan {
  const texts: string[] = [];
  let end = 0;
  let at = 0;
  let wholeTo = 0;
  const behindBroken = new Set<number>();
  while (at < file.length) {
    const found = readFrame(file, at);
    if (found === undefined) {
      at = nextHead(file, at + 1);
      continue;
    }
    if (at > wholeTo) behindBroken.add(texts.length);
    texts.push(found.text);
    at = found.end;
    wholeTo = at;
    if (behindBroken.size === 0) end = at;
  }
  return { texts, end, brokenAt: behindBroken.size === 0 ? undefined : end, behindBroken };
}

/** The next place that looks like the head of a line; a flipped line feed must not hide the line behind it. */
function nextHead(file: Uint8Array, from: number): number {
  for (let at = from; at + HEAD < file.length; at += 1) {
    if (file[at + DIGITS] === BLANK && file[at + HEAD - 1] === BLANK) return at;
  }
  return file.length;
}

function readFrame(file: Uint8Array, at: number): { text: string; end: number } | undefined {
  const length = readDigits(file, at);
  const sum = readDigits(file, at + CHECKSUM_AT);
  if (length === undefined || sum === undefined) return undefined;
  if (file[at + DIGITS] !== BLANK || file[at + HEAD - 1] !== BLANK) return undefined;
  const start = at + HEAD;
  const end = start + length + 1;
  if (end > file.length || file[end - 1] !== LINE_FEED) return undefined;
  const bytes = file.subarray(start, end - 1);
  if (checksum(bytes) !== sum) return undefined;
  return { text: new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes), end };
}

function digits(value: number): string {
  return value.toString(16).padStart(DIGITS, "0");
}

function readDigits(file: Uint8Array, at: number): number | undefined {
  let value = 0;
  for (let place = at; place < at + DIGITS; place += 1) {
    const digit = digitOf(file[place]);
    if (digit === undefined) return undefined;
    value = value * 16 + digit;
  }
  return value;
}

function digitOf(byte: number | undefined): number | undefined {
  if (byte === undefined) return undefined;
  if (byte >= 0x30 && byte <= 0x39) return byte - 0x30;
  if (byte >= 0x61 && byte <= 0x66) return byte - 0x57;
  return undefined;
}

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let remainder = byte;
  for (let bit = 0; bit < 8; bit += 1) {
    remainder = remainder & 1 ? (remainder >>> 1) ^ 0xedb88320 : remainder >>> 1;
  }
  return remainder >>> 0;
});

/** CRC-32 of ISO 3309: it finds torn and flipped bytes; who wrote them the chain of hashes shows. */
export function checksum(bytes: Uint8Array): number {
  let sum = 0xffffffff;
  for (const byte of bytes) sum = (sum >>> 8) ^ (TABLE[(sum ^ byte) & 0xff] ?? 0);
  return (sum ^ 0xffffffff) >>> 0;
}
