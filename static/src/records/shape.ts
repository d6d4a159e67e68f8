// SPDX-License-Identifier: Apache-2.0
// A small language for the shapes of values that come from outside: each shape tells what is wrong, or nothing.

/** What is wrong with a value, as the end of a sentence; undefined when it has the shape. */
export type Shape = (value: unknown) => string | undefined;

export interface Members {
  readonly needed?: Readonly<Record<string, Shape>>;
  readonly optional?: Readonly<Record<string, Shape>>;
}

/** An object with these members; `open` lets others through, as answers of a newer server may have them. */
export function object({ needed = {}, optional = {} }: Members, open = false): Shape {
  const known = new Map([...Object.entries(needed), ...Object.entries(optional)]);
  return (value) => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) return "is no object";
    for (const name of Object.keys(needed)) {
      if (!Object.hasOwn(value, name)) return `lacks '${name}'`;
    }
    for (const [name, member] of Object.entries(value)) {
      const shape = known.get(name);
      if (shape === undefined && !open) return `has the unknown member '${name}'`;
      const wrong = shape?.(member);
      if (wrong !== undefined) return `'${name}' ${wrong}`;
    }
    return undefined;
  };
}

export function list(entry: Shape, fewest = 0, most = Infinity): Shape {
  return (value) => {
    if (!Array.isArray(value)) return "is no list";
    if (value.length < fewest) return `has fewer than ${fewest} entries`;
    if (value.length > most) return `has more than ${most} entries`;
    for (const one of value) {
      const wrong = entry(one);
      if (wrong !== undefined) return `has an entry that ${wrong}`;
    }
    return undefined;
  };
}

/** An object whose member names match a pattern and whose members all have one shape. */
export function dictionary(name: RegExp, entry: Shape): Shape {
  return (value) => {
    if (typeof value !== "object" || value === null || Array.isArray(value)) return "is no object";
    for (const [key, one] of Object.entries(value)) {
      if (!name.test(key)) return `has the member name '${key.slice(0, 40)}'`;
      const wrong = entry(one);
      if (wrong !== undefined) return `'${key}' ${wrong}`;
    }
    return undefined;
  };
}

export function integer(least: number, most: number): Shape {
  return (value) =>
    Number.isSafeInteger(value) && (value as number) >= least && (value as number) <= most
      ? undefined
      : `is no integer from ${least} to ${most}`;
}

/** A text of so many characters; a character beyond the first plane counts once, as it does on the server. */
export function text(fewest: number, most: number): Shape {
  return (value) => {
    if (typeof value !== "string") return "is no text";
    const characters = value.length <= most ? value.length : Array.from(value).length;
    return characters >= fewest && characters <= most
      ? undefined
      : `is not ${fewest} to ${most} characters long`;
  };
}

export function pattern(form: RegExp): Shape {
  return (value) =>
    typeof value === "string" && form.test(value) ? undefined : `does not match ${form.source}`;
}

export function oneOf(...words: readonly (string | boolean | number)[]): Shape {
  return (value) => (words.includes(value as string) ? undefined : `is none of ${words.join(", ")}`);
}

export const boolean: Shape = (value) =>
  typeof value === "boolean" ? undefined : "is neither true nor false";
export const anything: Shape = () => undefined;

/** The shape whose name stands in one of the members. */
export function byMember(member: string, shapes: Readonly<Record<string, Shape>>): Shape {
  return (value) => {
    if (typeof value !== "object" || value === null) return "is no object";
    const name = (value as Record<string, unknown>)[member];
    const shape = typeof name === "string" && Object.hasOwn(shapes, name) ? shapes[name] : undefined;
    return shape === undefined ? `has an unknown '${member}'` : shape(value);
  };
}
