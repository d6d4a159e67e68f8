// SPDX-License-Identifier: Apache-2.0
// The four files of the store in the browser's private file system. They are made at enrolment, and none is
// made or deleted after: a kill while a file is being made can take it away again.
import type { StoreFile } from "./file.js";

export const FILE_NAMES = ["journal-a", "journal-b", "fetched", "files"] as const;
export type FileName = (typeof FILE_NAMES)[number];

/** How long the handles of a tab that has just gone may stay locked. */
const PATIENCE_MS = 3000;
const PAUSE_MS = 25;

class OpfsFile implements StoreFile {
  constructor(
    private readonly name: FileName,
    private readonly folder: FileSystemDirectoryHandle,
    private readonly handle: FileSystemSyncAccessHandle,
  ) {}

  size(): number {
    return this.handle.getSize();
  }

  read(at: number, length: number): Uint8Array {
    const bytes = new Uint8Array(length);
    return bytes.subarray(0, this.handle.read(bytes, { at }));
  }

  write(at: number, bytes: Uint8Array<ArrayBuffer>): number {
    return this.handle.write(bytes, { at });
  }

  flush(): void {
    this.handle.flush();
  }

  truncate(size: number): void {
    this.handle.truncate(size);
  }

  async listed(): Promise<number | undefined> {
    try {
      const handle = await this.folder.getFileHandle(this.name, { create: false });
      return (await handle.getFile()).size;
    } catch {
      return undefined;
    }
  }

  close(): void {
    this.handle.close();
  }
}

export type OpenFiles = Readonly<Record<FileName, OpfsFile>>;

/** True when the store was made here before: its journal is listed. */
export async function areMade(folder: FileSystemDirectoryHandle): Promise<boolean> {
  try {
    await folder.getFileHandle("journal-a", { create: false });
    return true;
  } catch (problem) {
    if (problem instanceof DOMException && problem.name === "NotFoundError") return false;
    throw problem;
  }
}

/** Open all four; a file that is missing beside a journal is one that a kill kept from being made. */
export async function openFiles(folder: FileSystemDirectoryHandle): Promise<OpenFiles> {
  const opened: OpfsFile[] = [];
  try {
    for (const name of FILE_NAMES) {
      const file = await folder.getFileHandle(name, { create: true });
      opened.push(new OpfsFile(name, folder, await accessTo(file)));
    }
  } catch (problem) {
    for (const file of opened) file.close();
    throw problem;
  }
  const [journalA, journalB, fetched, files] = opened as [OpfsFile, OpfsFile, OpfsFile, OpfsFile];
  return { "journal-a": journalA, "journal-b": journalB, fetched, files };
}

export function closeFiles(files: OpenFiles): void {
  for (const name of FILE_NAMES) files[name].close();
}

async function accessTo(file: FileSystemFileHandle): Promise<FileSystemSyncAccessHandle> {
  for (let waited = 0; ; waited += PAUSE_MS) {
    try {
      return await file.createSyncAccessHandle();
    } catch (problem) {
      const isLocked = problem instanceof DOMException && problem.name === "NoModificationAllowedError";
      if (!isLocked || waited >= PATIENCE_MS) throw problem;
      await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
    }
  }
}
