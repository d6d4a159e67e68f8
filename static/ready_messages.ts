// SPDX-License-Identifier: Apache-2.0
// Takes the catalogues' messages apart when the app is built, so that the tablet carries no parser for them: a
// message with a value in it becomes the list of its parts that words/format.ts makes a sentence of.
import { parse, TYPE, type MessageFormatElement } from "@formatjs/icu-messageformat-parser";
import type { Plugin } from "vite";
import type { Message, Part } from "./src/words/format.js";

interface Node {
  readonly type: string;
  readonly start: number;
  readonly end: number;
  readonly value?: unknown;
}

export function readyMessages(catalogues: RegExp): Plugin {
  return {
    name: "ready-messages",
    enforce: "post",
    transform(code, id) {
      if (!catalogues.test(id)) return null;
      let ready = code;
      // From the end, so that the places of what is still to be replaced stay as they were.
      for (const { start, end, text } of messagesIn(this.parse(code)).reverse()) {
        ready = ready.slice(0, start) + JSON.stringify(partsOf(parse(text), text)) + ready.slice(end);
      }
      return { code: ready, map: null };
    },
  };
}

interface Written {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Every text with a value in it that stands as a member of an object. */
function messagesIn(tree: unknown): Written[] {
  if (typeof tree !== "object" || tree === null) return [];
  if (Array.isArray(tree)) return tree.flatMap(messagesIn);
  const node = tree as Node;
  if (node.type === "Property") {
    const { start, end, value: text } = node.value as Node;
    if (typeof text === "string") return text.includes("{") ? [{ start, end, text }] : [];
  }
  return Object.values(node).flatMap(messagesIn);
}

/** What no catalogue needs is refused here, and not said wrongly on a tablet. */
function partsOf(elements: readonly MessageFormatElement[], text: string): Message {
  return elements.map((element): Part => {
    switch (element.type) {
      case TYPE.literal:
        return element.value;
      case TYPE.pound:
        return 0;
      case TYPE.argument:
        return [element.value];
      case TYPE.number:
        if (element.style) break;
        return [element.value, 0];
      case TYPE.plural:
        if (element.offset !== 0 || element.pluralType !== "cardinal") break;
        if (Object.keys(element.options).some((form) => form.startsWith("="))) break;
        return [element.value, 1, casesOf(element.options, text)];
      case TYPE.select:
        return [element.value, 2, casesOf(element.options, text)];
    }
    throw new Error(`words/format.ts writes no such value: ${text}`);
  });
}

function casesOf(
  options: Readonly<Record<string, { readonly value: MessageFormatElement[] }>>,
  text: string,
): Readonly<Record<string, Message>> {
  return Object.fromEntries(Object.entries(options).map(([name, { value }]) => [name, partsOf(value, text)]));
}
