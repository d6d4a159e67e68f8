// SPDX-License-Identifier: Apache-2.0
import { expect, it } from "vitest";
import { FILE_NAMES } from "../../../static/src/journal/opfs.js";

const texts = (pages: Record<string, unknown>): string => Object.values(pages).map(String).join("\n");
const PAGE = texts(
  import.meta.glob("../../../docs/tablet_store.md", { eager: true, query: "?raw", import: "default" }),
);
const SOURCES = texts(
  import.meta.glob(
    [
      "../../../static/src/folds/copies.ts",
      "../../../static/src/journal/*.ts",
      "../../../static/src/sync/{store_link,tablet}.ts",
    ],
    { eager: true, query: "?raw", import: "default" },
  ),
);

/** Every text between quotation marks behind a word of the code. */
function said(behind: RegExp): string[] {
  return [
    ...new Set([...SOURCES.matchAll(behind)].flatMap((found) => found[0].match(/"[a-z_]+"/g) ?? [])),
  ].map((text) => text.slice(1, -1));
}

it.each([...FILE_NAMES])("the page names the file %s", (name) => {
  expect(PAGE).toContain(`\`${name}\``);
});

it.each(said(/readonly entry: "[a-z_]+"/g))("the page names the entry %s", (entry) => {
  expect(PAGE).toContain(`| \`${entry}\` |`);
});

it.each(said(/export type NotKept = [^;]+|why: "(?:journal_broken|not_open|no_answer)"/g))(
  "the page names why a record is not stored: %s",
  (why) => {
    expect(PAGE).toContain(`| \`${why}\` |`);
  },
);
