// SPDX-License-Identifier: Apache-2.0

/** A file of the store as the journal needs it. OPFS has it in a worker; tests have it in memory. */
export interface StoreFile {
  size(): number;
  read(at: number, length: number): Uint8Array;
  /** Returns how many bytes were taken: a full store may take fewer than it was given. */
  write(at: number, bytes: Uint8Array<ArrayBuffer>): number;
  flush(): void;
  truncate(size: number): void;
  /**
   * The size by which the folder lists the file, or undefined when it lists no such file.
   *
   * Write, flush and reading back go on succeeding in a file that was deleted under an open handle.
   */
  listed(): Promise<number | undefined>;
}

/** Why bytes are not safe in a file. */
export type NotKept = "short_write" | "write_failed" | "file_gone";

/** Write bytes so that they are safe: taken whole, flushed, and listed by the folder at the size they lead to. */
export async function writeSafely(
  file: StoreFile,
  at: number,
  bytes: Uint8Array<ArrayBuffer>,
): Promise<NotKept | undefined> {
  try {
    if (file.write(at, bytes) !== bytes.length) return "short_write";
    file.flush();
  } catch {
    return "write_failed";
  }
  return (await file.listed()) === at + bytes.length ? undefined : "file_gone";
}

/** All bytes of a file. */
export function readAll(file: StoreFile): Uint8Array {
  return file.read(0, file.size());
}
