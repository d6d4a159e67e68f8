// SPDX-License-Identifier: Apache-2.0
// The words of a language come in two halves, so a screen must never be there before its words are.
import { expect, test, vi } from "vitest";
import { dePages } from "../../../static/src/words/de_pages.js";
import { en } from "../../../static/src/words/en.js";
import { enPages } from "../../../static/src/words/en_pages.js";

const SRC = "/src/";
const sources = Object.fromEntries(
  Object.entries(
    import.meta.glob<string>("../../../static/src/**/*.{ts,tsx}", {
      eager: true,
      query: "?raw",
      import: "default",
    }),
  ).map(([path, text]) => [path.slice(path.indexOf(SRC) + SRC.length), text]),
);
const isCatalogue = (path: string): boolean => /^words\/(\w+\/\w+|[a-z]{2}(_pages)?)\.ts$/.test(path);

/** The module a relative import of another names; its styles are none. */
function named(path: string, from: string): string | undefined {
  const plain = new URL(from, `file:///${path}`).pathname.slice(1).replace(/\.js$/, "");
  return [`${plain}.ts`, `${plain}.tsx`].find((one) => one in sources);
}

/** A module and everything that is there before it runs. */
function withImports(first: string): Set<string> {
  const found = new Set([first]);
  for (const path of found) {
    const imports = (sources[path] ?? "").matchAll(
      /^(?:import|export)\s+(?!type\b)(?:[^"';]*?\sfrom\s+)?"(\.[^"]+)"/gms,
    );
    for (const [, from = ""] of imports) {
      const other = named(path, from);
      if (other !== undefined && !isCatalogue(other)) found.add(other);
    }
  }
  return found;
}

/** Those keys that a module has anywhere as a text: said at once, or kept in a list to be said. */
function keysIn(paths: Iterable<string>, keys: object): string[] {
  const text = [...paths].map((path) => sources[path] ?? "").join("\n");
  return Object.keys(keys).filter((key) => text.includes(`"${key}"`));
}

const first = withImports("shell/main.tsx");

test("what is loaded to tally is found by following imports, and pages on demand are not", () => {
  for (const path of [
    "bench/tally_screen.tsx",
    "bench/tray_end.tsx",
    "words/differences.ts",
    "setup/sign_on.tsx",
  ]) {
    expect(first).toContain(path);
  }
  for (const path of ["lead/pareto_page.tsx", "machine/check_page.tsx"]) expect(first).not.toContain(path);
});

test("what is loaded to tally says no word of the pages", () => {
  expect(keysIn(first, enPages)).toEqual([]);
});

test("what is said by pages alone is not loaded to tally", () => {
  const said = keysIn(first, en);
  expect(Object.keys(en).filter((key) => !said.includes(key))).toEqual([]);
});

test("no key is put together from pieces, where nobody could follow it", () => {
  const prefixes = new Set([...Object.keys(en), ...Object.keys(enPages)].map((key) => key.split(".")[0]));
  const made = Object.entries(sources).flatMap(([path, text]) =>
    [...text.matchAll(/`([a-z_]+)\.[^`\s]*\$\{|"([a-z_]+)\." ?\+/g)]
      .filter(([, inText = "", added = ""]) => prefixes.has(inText) || prefixes.has(added))
      .map(([piece]) => `${path}: ${piece}`),
  );
  expect(made).toEqual([]);
});

test("whatever else comes on demand waits for the words of the pages", () => {
  const fetching = Object.entries(sources).filter(
    ([path, text]) => /\bimport\(/.test(text) && path !== "words/say.ts",
  );
  expect(fetching.map(([path]) => path).sort()).toEqual(["shell/main.tsx", "shell/pages.ts"]);
  // Every page is fetched by the one function that waits, and the page without a store waits itself.
  const pages = sources["shell/pages.ts"] ?? "";
  const exported = [...pages.matchAll(/^export const \w+ = (\w+)\(/gm)].map(([, by]) => by);
  expect(exported.length).toBeGreaterThan(10);
  expect(new Set(exported)).toEqual(new Set(["onDemand"]));
  expect(sources["shell/on_demand.tsx"]).toContain("Promise.all([fetch(), learnPages()])");
  expect(sources["shell/main.tsx"]).toContain("learnPages()");
  expect(sources["shell/trust.tsx"]).toContain("learnPages()");
});

const OF_A_PAGE = "pareto.title";

test("what a page says is there once the pages' words are, and then in every language", async () => {
  vi.resetModules();
  const { language, learn, learnPages, say } = await import("../../../static/src/words/say.js");
  await learn("en");
  expect(say("batches.title")).toBe(en["batches.title"]);
  expect(say(OF_A_PAGE)).toBe(OF_A_PAGE);
  await learnPages();
  expect(say(OF_A_PAGE)).toBe(enPages[OF_A_PAGE]);
  await learn("de");
  language.value = "de";
  expect(say(OF_A_PAGE)).toBe(dePages[OF_A_PAGE]);
});

test("a language that is chosen while the words of the pages come has them, too", async () => {
  vi.resetModules();
  const { language, learn, learnPages, say } = await import("../../../static/src/words/say.js");
  await learn("en");
  await learn("de");
  const coming = learnPages();
  language.value = "de";
  await coming;
  expect(say(OF_A_PAGE)).toBe(dePages[OF_A_PAGE]);
});
