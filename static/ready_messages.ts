// SPDX-License-Identifier: Apache-2.0
// Takes the catalogues' messages apart when the app is built, so that the tablet carries no parser for them: a
// message with a value in it becomes the list of its parts, which is what the formatting library would make of it.
import { parse } from "@formatjs/icu-messageformat-parser";
import type { Plugin } from "vite";

interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly value?: unknown;
}

export function readyMessages(catalogues: RegExp): Plugin {
  return {
    name: "ready-messages",
    apply: "build",
    enforce: "post",
    config: () => ({
      resolve: {
        alias: [
          {
            find: /^@formatjs\/icu-messageformat-parser$/,
            replacement: "@formatjs/icu-messageformat-parser/no-parser.js",
          },
        ],
      },
    }),
    transform(code, id) {
      if (!catalogues.test(id)) return null;
      let ready = code;
      // From the end, so that the places of what is still to be replaced stay as they were.
      for (const { start, end, text } of messagesIn(this.parse(code)).reverse()) {
        ready = ready.slice(0, start) + JSON.stringify(parse(text)) + ready.slice(end);
      }
      return { code: ready, map: null };
    },
  };
}

interface Message {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Every text with a value in it that stands as a member of an object. */
function messagesIn(tree: unknown): Message[] {
  if (typeof tree !== "object" || tree === null) return [];
  if (Array.isArray(tree)) return tree.flatMap(messagesIn);
  const node = tree as Node;
  if (node.type === "Property") {
    const { start, end, value: text } = node.value as Node;
    if (typeof text === "string") return text.includes("{") ? [{ start, end, text }] : [];
  }
  return Object.values(node).flatMap(messagesIn);
}
