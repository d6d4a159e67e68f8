// SPDX-License-Identifier: Apache-2.0
// Builds the store's worker together with the page, and lets the page make it before it runs anything else.
import type { Plugin } from "vite";

const WRITTEN = `new URL("../journal/worker.ts", import.meta.url)`;
const FIRST = "store_link";

/**
 * worker  what it and the page both need is one file that comes once, and not one in each
 * link    the modules that make the worker: a file of their own, which the page runs as soon as it has it
 */
export function storeFirst(worker: string, link: RegExp): Plugin {
  let built = "";
  return {
    name: "store-first",
    apply: "build",
    enforce: "pre",
    config: () => ({
      build: { rolldownOptions: { output: { codeSplitting: { groups: [{ name: FIRST, test: link }] } } } },
    }),
    buildStart() {
      built = this.emitFile({ type: "chunk", id: worker, name: "worker" });
    },
    transform(code) {
      return code.includes(WRITTEN)
        ? { code: code.replace(WRITTEN, `import.meta.ROLLUP_FILE_URL_${built}`), map: null }
        : null;
    },
    transformIndexHtml: {
      order: "post",
      handler(_, { path, bundle }) {
        if (path !== "/index.html") return [];
        const first = Object.values(bundle ?? {}).find((one) => one.type === "chunk" && one.name === FIRST);
        if (first === undefined) throw new Error("The store's worker is made by no file of its own.");
        const attrs = { type: "module", async: true, crossorigin: true, src: `/${first.fileName}` };
        return [{ tag: "script", attrs, injectTo: "head-prepend" }];
      },
    },
  };
}
