// SPDX-License-Identifier: Apache-2.0
// Shows what the worker found, for the test that opened this page.
declare global {
  interface Window {
    /** "ok" or what went wrong, by the sentence of the case; set when all are done. */
    results?: Record<string, string>;
  }
}

const worker = new Worker(new URL("./acceptance_worker.ts", import.meta.url), { type: "module" });
worker.onmessage = ({ data }: MessageEvent<Record<string, string>>) => {
  window.results = data;
};

export {};
