// SPDX-License-Identifier: Apache-2.0
// Who this tablet is: its key pair and its enrolment. Written once, in IndexedDB, because only there a key can be
// kept that no script can read; nothing else is kept there, and no record ever is.

export interface Identity {
  readonly keys: CryptoKeyPair;
  readonly device: string;
  readonly letters: string;
  readonly site: string;
}

const DATABASE = "tallywright";
const TABLE = "identity";
const ROW = "device";

export async function readIdentity(): Promise<Identity | undefined> {
  const database = await opened();
  try {
    const row: unknown = await done(database.transaction(TABLE, "readonly").objectStore(TABLE).get(ROW));
    return row as Identity | undefined;
  } finally {
    database.close();
  }
}

export async function writeIdentity(identity: Identity): Promise<void> {
  const database = await opened();
  try {
    const transaction = database.transaction(TABLE, "readwrite", { durability: "strict" });
    transaction.objectStore(TABLE).put(identity, ROW);
    await new Promise<void>((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      transaction.onabort = () => reject(asError(transaction.error));
    });
  } finally {
    database.close();
  }
}

function opened(): Promise<IDBDatabase> {
  // No version: whatever a newer app made of the database, an older page that still runs can read its key.
  const request = indexedDB.open(DATABASE);
  request.onupgradeneeded = () => {
    request.result.createObjectStore(TABLE);
  };
  return done(request);
}

function done<T>(request: IDBRequest<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(asError(request.error));
  });
}

function asError(problem: DOMException | null): Error {
  return problem ?? new Error("The browser's database gave no reason.");
}
