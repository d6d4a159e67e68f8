// SPDX-License-Identifier: Apache-2.0
// An enrolled device whose app is wrong: among records it writes lines that are none, links them and signs them.
// The server has to name each with its code, keep its bytes, and store what stands before and behind it.
import { push } from "../../../static/src/api/requests.js";
import { chainName, CHAIN_NAME_BYTES } from "../../../static/src/records/chain_name.js";
import { compose, headAfter, type Head } from "../../../static/src/records/compose.js";
import { hashOf } from "../../../static/src/records/hash.js";
import type { Draft } from "../../../static/src/records/kinds.js";
import type { Identity } from "../../../static/src/sync/identity.js";
import { signRun } from "../../../static/src/sync/signing.js";
import type { Chance } from "../records/chance.js";

const LONGEST_LINE = 1024 * 1024;
const MOST_LINES = 7;

/** What is done to a record's line, and the code the server has for it. */
type Poison = readonly [change: (line: string) => string, code: string];
const WHOLE_2_70: Poison = [(line) => dreamt(line, "1180591620717411303424"), "not-canonical"];
const U_0000: Poison = [(line) => line.replace("Europe/Berlin", "Europe\\u0000"), "not-canonical"];
const BYTE_0: Poison = [(line) => line.replace("Europe/Berlin", "Europe\u0000"), "unreadable"];
const DOUBLED: Poison = [(line) => `${line.slice(0, -1)},"v":1}`, "not-canonical"];
const MEBIBYTE: Poison = [longest, "too-large"];

interface Line {
  readonly line: string;
  readonly hash: string;
  /** What the server says of it; undefined for a record. */
  readonly code: string | undefined;
}

/** A line of a kind that nobody knows, with something else as its body. */
function dreamt(line: string, value: string): string {
  return line.replace("signed_on", "thing_dreamt").replace(/"body":\{[^}]*\}/, `"body":{"a":${value}}`);
}

function longest(line: string): string {
  const rest = dreamt(line, '""').length;
  return dreamt(line, `"${"x".repeat(LONGEST_LINE - rest)}"`);
}

export class OddDevice {
  readonly #lines: Line[] = [];
  #head: Head;

  constructor(
    private readonly identity: Identity,
    private readonly chance: Chance,
    private readonly now: () => number,
  ) {
    this.#head = { chain: chainName(chance.bytes(CHAIN_NAME_BYTES)), n: 0, hash: undefined };
    this.#write({ kind: "chain_opened", v: 1, body: { why: "first" } });
  }

  /** Ids and hashes of all it wrote. */
  get all(): readonly { readonly id: string; readonly hash: string }[] {
    return this.#lines.map(({ hash }, at) => ({ id: `${this.#head.chain}:${at + 1}`, hash }));
  }

  /** Write some records with a poisoned line at any place among them. */
  write(): void {
    const records = this.chance.whole(1, MOST_LINES);
    const place = this.chance.whole(0, records);
    for (let at = 0; at <= records; at += 1) {
      const poison =
        at === place ? this.chance.one(WHOLE_2_70, U_0000, BYTE_0, DOUBLED, MEBIBYTE) : undefined;
      this.#write({ kind: "signed_on", v: 1, body: { person: this.identity.device } }, poison);
    }
  }

  #write(draft: Draft, poison?: Poison): void {
    const { device, site } = this.identity;
    const stamp = { offset_min: 60, time_zone: "Europe/Berlin", skew_ms: 0, sign_on: undefined };
    const record = compose(draft, this.#head, { device, site }, { ...stamp, made_at: this.now() });
    const [change, code] = poison ?? [];
    const line = change?.(record.line) ?? record.line;
    const hash = hashOf(line);
    this.#lines.push({ line, hash, code });
    this.#head = { ...headAfter(record), hash };
  }

  /** Send what the server does not hold; returns what it did otherwise than it should. */
  async send(): Promise<readonly string[]> {
    const { chain } = this.#head;
    let held = await this.#held();
    while (held < this.#lines.length) {
      const before = held;
      const lines = this.#next(held);
      const last = held + lines.length;
      const hash = lines.at(-1)?.hash ?? "";
      const signature = await signRun(this.identity.keys, chain, last, hash);
      const answer = await push(chain, {
        chain,
        first: held + 1,
        last,
        signature,
        lines: lines.map(({ line }) => line),
      });
      if (answer.sort !== "ours") return [`no answer to a poisoned push: ${JSON.stringify(answer)}`];
      const expected = lines.flatMap(({ code }, at) =>
        code === undefined ? [] : [`${before + at + 1} ${code}`],
      );
      const found = answer.value.exceptions.map(({ n, code }) => `${n} ${code}`);
      if (found.join() !== expected.join())
        return [`poison ${expected.join()} is said to be ${found.join()}`];
      held = answer.value.marks.find((mark) => mark.chain === chain)?.n ?? 0;
      // It may stand further: a late request may have brought lines from behind to a server that was put back.
      if (held < last) return [`behind a poisoned line the mark stands at ${held} in place of ${last}`];
    }
    return [];
  }

  async #held(): Promise<number> {
    const { chain } = this.#head;
    const answer = await push(chain, undefined);
    return answer.sort === "ours" ? (answer.value.marks.find((mark) => mark.chain === chain)?.n ?? 0) : 0;
  }

  /**
   * What fits a push. A line of a mebibyte goes alone; one that hides what it continues begins a push, because what
   * stands before it is reached by no link.
   */
  #next(from: number): readonly Line[] {
    const lines = this.#lines.slice(from, from + this.chance.whole(1, 12));
    if (lines[0]?.line.length === LONGEST_LINE) return lines.slice(0, 1);
    const end = lines.findIndex(
      ({ line, code }, at) => at > 0 && (line.length === LONGEST_LINE || code === "unreadable"),
    );
    return end < 0 ? lines : lines.slice(0, end);
  }
}
