// SPDX-License-Identifier: Apache-2.0
import { describe, it } from "vitest";
import { CASES } from "./acceptance.js";
import { MemoryFile } from "./memory_file.js";

describe("a store on files in memory", () => {
  it.each(Object.entries(CASES))("%s", async (_, run) => {
    await run(() =>
      Promise.resolve({
        "journal-a": new MemoryFile(),
        "journal-b": new MemoryFile(),
        fetched: new MemoryFile(),
        files: new MemoryFile(),
      }),
    );
  });
});
