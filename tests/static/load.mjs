// SPDX-License-Identifier: Apache-2.0
// Loads TypeScript for a script that Node runs, with the packages of static/.
import { createRequire } from "node:module";
import { fileURLToPath, pathToFileURL } from "node:url";

const root = new URL("../../static/", import.meta.url);
const packages = createRequire(new URL("package.json", root));
const { runnerImport } = await import(pathToFileURL(packages.resolve("vite")).href);

/** The module at a path from the script whose `import.meta.url` is given. */
export async function load(path, from) {
  const options = { root: fileURLToPath(root), configFile: false, logLevel: "error" };
  const { module } = await runnerImport(fileURLToPath(new URL(path, from)), options);
  return module;
}
