// SPDX-License-Identifier: Apache-2.0
// The works of one world: the server behind its pipe, what its database holds, and its copies.
import type { Chance } from "../records/chance.js";
import type { Seen } from "./asks.js";
import { Way, type Child, type Reply } from "./way.js";

/** Hashes by number, for each chain; a number may have several: one in its place, others set aside. */
type Held = Map<string, Map<number, Set<string>>>;

export class Works {
  readonly way: Way;
  /** What is stored or set aside. */
  readonly held: Held = new Map();
  /** Of these what is stored in the log. */
  readonly #standing = new Set<string>();
  /** What was held by a server that was then put back, by id and hash. */
  readonly #once = new Set<string>();
  readonly wrong: string[] = [];
  /** It lacks what it once confirmed, and nobody was told. */
  wasPutBack = false;
  #readUpTo = { records: 0, aside: 0 };
  /** Copies that hold all that any tablet may have let go of. */
  #copies: string[] = [];
  #copied = 0;

  private constructor(
    private readonly child: Child,
    private readonly chance: Chance,
  ) {
    this.way = new Way(child, chance);
    this.way.copyMeanwhile = (meanwhile) => this.backup(meanwhile);
  }

  static async open(child: Child, chance: Chance): Promise<Works> {
    await child.do({ do: "begin" });
    return new Works(child, chance);
  }

  has(id: string, hash: string): boolean {
    return this.#of(id)?.has(hash) ?? false;
  }

  /** True where it was held before the server was put back, and is no more. */
  isGone(id: string, hash: string): boolean {
    return this.#once.has(`${id} ${hash}`) && !this.has(id, hash);
  }

  /** True where it is in the log, and not only set aside. */
  stands(id: string, hash: string): boolean {
    return this.#standing.has(`${id} ${hash}`);
  }

  /** How many records that call themselves so are stored or set aside. */
  hashesOf(id: string): number {
    return this.#of(id)?.size ?? 0;
  }

  #of(id: string): ReadonlySet<string> | undefined {
    const [chain = "", n] = id.split(":");
    return this.held.get(chain)?.get(Number(n));
  }

  /** Read what came since; a record that stands twice is said. */
  async refresh(): Promise<void> {
    const found = (await this.child.do({ do: "held", ...this.#readUpTo })) as unknown as {
      readonly records: readonly (readonly [number, string, number, string])[];
      readonly aside: readonly (readonly [number, string, number, string])[];
    };
    const stands = new Set<string>();
    for (const [number, chain, n, hash] of found.records) {
      if (number !== this.#readUpTo.records + 1) this.wrong.push(`number ${number} is not the next one`);
      const id = `${chain}:${n}`;
      if (stands.has(id)) this.wrong.push(`${id} stands twice in the log`);
      stands.add(id);
      this.#readUpTo.records = number;
      this.#hold(chain, n, hash);
      this.#standing.add(`${id} ${hash}`);
    }
    for (const [entry, chain, n, hash] of found.aside) {
      this.#readUpTo.aside = entry;
      this.#hold(chain, n, hash);
    }
  }

  #hold(chain: string, n: number, hash: string): void {
    const numbers = this.held.get(chain) ?? new Map<number, Set<string>>();
    this.held.set(chain, numbers);
    numbers.set(n, (numbers.get(n) ?? new Set()).add(hash));
  }

  /**
   * A verified copy: tablets may let go of what it holds, so no older one is ever put back. What is asked meanwhile is
   * answered when the copy is written, and before it is read and spoken of.
   */
  async backup(meanwhile?: Reply): Promise<Reply | undefined> {
    this.#copied += 1;
    const file = `copy-${this.#copied}.db`;
    const about = { now: this.way.now, chance: this.chance.whole(0, 2 ** 31) };
    const answer = await this.child.do({ ...meanwhile, do: "backup", file, ...about });
    this.#copies = [file];
    return this.#unrefused(answer);
  }

  /** What a lead has seen who looks at the page of a batch now. */
  readonly page = async (batch: string): Promise<Seen> => {
    const { seen } = (await this.child.do({ do: "seen", batch })) as unknown as { readonly seen: Seen };
    return seen;
  };

  async revoke(device: string): Promise<void> {
    await this.child.do({ do: "revoke", device, now: this.way.now, chance: this.chance.whole(0, 2 ** 31) });
  }

  /** A command that refuses a copy has found it broken. */
  #unrefused(answer: Reply | undefined): Reply | undefined {
    const refused = answer?.["refused"];
    if (typeof refused === "string") throw new Error(refused);
    return answer;
  }

  async snapshot(): Promise<void> {
    this.#copied += 1;
    const file = `copy-${this.#copied}.db`;
    await this.child.do({ do: "snapshot", file });
    this.#copies.push(file);
  }

  /** Put an older copy in the place of the database, with the command or by hand; false where there is none. */
  async putBack(): Promise<boolean> {
    if (this.#copies.length === 0) return false;
    this.wasPutBack = true;
    const at = this.chance.whole(0, this.#copies.length - 1);
    const file = this.#copies[at];
    // Newer copies hold what this one lacks: they are of a log that is no more.
    this.#copies = this.#copies.slice(0, at + 1);
    this.#unrefused(await this.child.do({ do: "put_back", file, isByHand: this.chance.flip() }));
    for (const [chain, numbers] of this.held)
      for (const [n, hashes] of numbers) for (const hash of hashes) this.#once.add(`${chain}:${n} ${hash}`);
    this.held.clear();
    this.#standing.clear();
    this.#readUpTo = { records: 0, aside: 0 };
    await this.refresh();
    return true;
  }

  /** Folds fail no more, and those that did are folded again: a picture waits as long as its batch cannot be folded. */
  async refold(): Promise<void> {
    await this.child.do({ do: "refold", now: this.way.now, chance: 0 });
  }

  async kill(): Promise<void> {
    await this.child.kill();
  }

  async judge(secrets: readonly string[]): Promise<{
    readonly wrong: readonly string[];
    readonly folded: Readonly<Record<string, unknown>>;
    /** How many requests of each kind were granted and declined, why, and how many batches were released. */
    readonly decided: Readonly<Record<string, number>>;
  }> {
    return (await this.child.do({ do: "judge", secrets })) as never;
  }
}
