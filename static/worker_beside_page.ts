// SPDX-License-Identifier: Apache-2.0
// Builds the store's worker together with the page: what both need is one file that comes once, and not one in each.
import type { Plugin } from "vite";

export function workerBesidePage(entry: string): Plugin {
  let built = "";
  return {
    name: "worker-beside-page",
    apply: "build",
    enforce: "pre",
    buildStart() {
      built = this.emitFile({ type: "chunk", id: entry, name: "worker" });
    },
    transform(code) {
      const written = `new URL("../journal/worker.ts", import.meta.url)`;
      return code.includes(written)
        ? { code: code.replace(written, `import.meta.ROLLUP_FILE_URL_${built}`), map: null }
        : null;
    },
  };
}
