// SPDX-License-Identifier: Apache-2.0
// The device's key: ECDSA P-256, made here, and readable by no script.
import { utf8Bytes } from "../records/utf8.js";

const CURVE = { name: "ECDSA", namedCurve: "P-256" } as const;
const ALGORITHM = { name: "ECDSA", hash: "SHA-256" } as const;

export function makeKeys(): Promise<CryptoKeyPair> {
  return crypto.subtle.generateKey(CURVE, false, ["sign", "verify"]);
}

/** Base64 of the DER SubjectPublicKeyInfo. */
export async function publicText(keys: CryptoKeyPair): Promise<string> {
  return base64(await crypto.subtle.exportKey("spki", keys.publicKey));
}

/** Sign the end of a stretch of a chain; it vouches for all of the stretch. */
export function signRun(keys: CryptoKeyPair, chain: string, n: number, hash: string): Promise<string> {
  return sign(keys, `tallywright-run-1|${chain}|${n}|${hash}`);
}

/** Sign a challenge of the server, to open a session. */
export function signChallenge(keys: CryptoKeyPair, device: string, challenge: string): Promise<string> {
  return sign(keys, `tallywright-session-1|${device}|${challenge}`);
}

/** Base64 of the 64 bytes r and s. */
async function sign(keys: CryptoKeyPair, text: string): Promise<string> {
  return base64(await crypto.subtle.sign(ALGORITHM, keys.privateKey, utf8Bytes(text)));
}

function base64(bytes: ArrayBuffer): string {
  return btoa(Array.from(new Uint8Array(bytes), (byte) => String.fromCharCode(byte)).join(""));
}
