// SPDX-License-Identifier: Apache-2.0
// Runs the suite that every store passes on the browser's own files, each case in a folder of its own.
import { closeFiles, openFiles } from "../../../static/src/journal/opfs.js";
import { CASES } from "../../static/journal/acceptance.js";

const results: Record<string, string> = {};
const root = await navigator.storage.getDirectory();
let folders = 0;

for (const [name, run] of Object.entries(CASES)) {
  const opened: Awaited<ReturnType<typeof openFiles>>[] = [];
  try {
    await run(async () => {
      folders += 1;
      const files = await openFiles(await root.getDirectoryHandle(`case-${folders}`, { create: true }));
      opened.push(files);
      return files;
    });
    results[name] = "ok";
  } catch (problem) {
    results[name] = String(problem);
  }
  opened.forEach(closeFiles);
}
postMessage(results);

export {};
