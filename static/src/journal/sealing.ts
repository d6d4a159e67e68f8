// SPDX-License-Identifier: Apache-2.0
// Seals a PIN so that the server alone can open it, and for one record only: the label is the record's id.
import { utf8Bytes } from "../records/utf8.js";
import type { SealingKey } from "../folds/copies.js";

const ALGORITHM = { name: "RSA-OAEP", hash: "SHA-256" } as const;

/** What is asked of the worker with a sign-on; the PIN is in memory only, and not for longer than the sealing. */
export interface Secret {
  readonly key: SealingKey;
  readonly pin: string;
}

export async function seal({ key, pin }: Secret, label: string): Promise<Uint8Array> {
  const der = Uint8Array.from(atob(key.public_key), (letter) => letter.charCodeAt(0));
  const imported = await crypto.subtle.importKey("spki", der, ALGORITHM, false, ["encrypt"]);
  const sealed = await crypto.subtle.encrypt(
    { name: ALGORITHM.name, label: utf8Bytes(label) },
    imported,
    utf8Bytes(pin),
  );
  return new Uint8Array(sealed);
}
