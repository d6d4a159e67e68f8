// SPDX-License-Identifier: Apache-2.0
// Two pages of one build: the tablet without its screens, and the store's suite.
import { fileURLToPath } from "node:url";

const page = (name) => fileURLToPath(new URL(name, import.meta.url));

export default {
  build: { target: "es2022", rollupOptions: { input: [page("index.html"), page("acceptance.html")] } },
  worker: { format: "es" },
};
