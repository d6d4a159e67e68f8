// SPDX-License-Identifier: Apache-2.0
import { sha256 } from "@noble/hashes/sha2.js";
import { utf8Bytes } from "./utf8.js";

const HEX = Array.from({ length: 256 }, (_, byte) => byte.toString(16).padStart(2, "0"));

/** The SHA-256 of a line's bytes as 64 hexadecimal digits. */
export function hashOf(line: string): string {
  return hashOfBytes(utf8Bytes(line));
}

/** The SHA-256 of bytes as 64 hexadecimal digits. */
export function hashOfBytes(bytes: Uint8Array): string {
  let digits = "";
  for (const byte of sha256(bytes)) digits += HEX[byte] ?? "";
  return digits;
}
