// SPDX-License-Identifier: Apache-2.0
// UTF-8 without the browser's TextEncoder, which a pure room does not know.

const FIRST_HIGH = 0xd800;
const FIRST_LOW = 0xdc00;
const AFTER_LOW = 0xe000;
const FIRST_ASTRAL = 0x10000;

/** True when every half of a surrogate pair has its other half. */
export function isWellFormed(text: string): boolean {
  for (let at = 0; at < text.length; at += 1) {
    const unit = text.charCodeAt(at);
    if (unit < FIRST_HIGH || unit >= AFTER_LOW) continue;
    const next = text.charCodeAt(at + 1);
    if (unit >= FIRST_LOW || !(next >= FIRST_LOW && next < AFTER_LOW)) return false;
    at += 1;
  }
  return true;
}

/** The length of a well-formed text in UTF-8. */
export function utf8Length(text: string): number {
  let length = 0;
  for (let at = 0; at < text.length; at += 1) {
    const unit = text.charCodeAt(at);
    if (unit < 0x80) length += 1;
    else if (unit < 0x800) length += 2;
    // Both halves of a pair together take four bytes.
    else if (unit >= FIRST_HIGH && unit < AFTER_LOW) length += 2;
    else length += 3;
  }
  return length;
}

/** The UTF-8 bytes of a well-formed text. */
export function utf8Bytes(text: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(utf8Length(text));
  let end = 0;
  for (let at = 0; at < text.length; at += 1) {
    let point = text.charCodeAt(at);
    if (point >= FIRST_HIGH && point < FIRST_LOW) {
      at += 1;
      point = FIRST_ASTRAL + ((point - FIRST_HIGH) << 10) + (text.charCodeAt(at) - FIRST_LOW);
    }
    if (point < 0x80) {
      bytes[end++] = point;
      continue;
    }
    if (point < 0x800) {
      bytes[end++] = 0xc0 | (point >> 6);
    } else if (point < FIRST_ASTRAL) {
      bytes[end++] = 0xe0 | (point >> 12);
      bytes[end++] = 0x80 | ((point >> 6) & 0x3f);
    } else {
      bytes[end++] = 0xf0 | (point >> 18);
      bytes[end++] = 0x80 | ((point >> 12) & 0x3f);
      bytes[end++] = 0x80 | ((point >> 6) & 0x3f);
    }
    bytes[end++] = 0x80 | (point & 0x3f);
  }
  return bytes;
}
