// SPDX-License-Identifier: Apache-2.0
// Entries on their way into the store, in the order they were made. What the store did not take stays here, and
// whoever makes entries stops while there is any.
import { signal } from "@preact/signals";
import { canonical } from "../records/canonical.js";
import type { Draft, ReadRecord } from "../records/kinds.js";
import type { Stored, Tablet } from "../sync/contract.js";

/** A find in the making. */
export interface Find {
  readonly defect: string;
  readonly zone?: string;
  readonly piece?: string;
  readonly cavity?: string;
}

/** What an inspector may say of a piece with minor marks of his own. */
export type Judged = "accept" | "rework";

export interface FindEntry {
  readonly act: "find" | "repeat" | "undo";
  readonly find: Find;
  readonly draft: Draft;
}

export interface JudgementEntry {
  readonly act: "judge" | "unjudge";
  readonly piece: string;
  readonly verdict: Judged;
  readonly draft: Draft;
}

/** The tray as a whole, or whoever sits before it: nothing that the undo key takes back. */
export interface OtherEntry<Act> {
  readonly act: Act;
  readonly draft: Draft;
}

export type Entry =
  FindEntry | JudgementEntry | OtherEntry<"close"> | OtherEntry<"leave"> | OtherEntry<"rest">;

/** kept: made and held in memory, from where it is sent; the store writes it with the next one it takes. */
export type Fate = "storing" | "stored" | "kept";

/** `record` is the id of what was recorded, once it is known. */
export interface LastAct {
  readonly entry: FindEntry | JudgementEntry;
  readonly fate: Fate;
  readonly record?: string | undefined;
}

/** An entry that the store did not take. `after` is the newest own record of the moment it was offered. */
export interface Unstored {
  readonly entry: Entry;
  readonly kept: boolean;
  readonly after: number;
}

export type Keeper = Pick<Tablet, "add" | "records" | "signOn">;

/** A store that answers sooner needs no word for it: the key has turned over, and the answer is the next thing drawn. */
const SLOW_MS = 100;

export class Keeping {
  /** The last entry of a find or a verdict: once its fate is known, or the store takes its time. */
  readonly last = signal<LastAct | undefined>(undefined);
  /** Entries that are not in the store, oldest first. */
  readonly unstored = signal<readonly Unstored[]>([]);
  private tail: Promise<void> = Promise.resolve();
  private newest: LastAct["entry"] | undefined;

  constructor(private readonly tablet: Keeper) {}

  keep(entry: Entry): void {
    this.begin(entry);
    const slow = setTimeout(() => this.show(entry, "storing"), SLOW_MS);
    this.tail = this.tail.then(async () => {
      const after = this.newestOwn();
      // What comes behind an entry that was not stored waits with it, so that the order stays.
      const waits = this.unstored.value.length > 0;
      const answer = waits ? ({ stored: false, why: "waits" } as const) : await this.store(entry.draft);
      clearTimeout(slow);
      if (!answer.stored) {
        const kept = answer.kept === true;
        this.unstored.value = [...this.unstored.value, { entry, kept, after }];
      } else {
        this.show(entry, "stored", answer.record.id);
      }
    });
  }

  /**
   * Offer the unstored entries to the store again, in their order. One that is held in memory, or whose record
   * came to light later than the store's answer was waited for, is there already: again would count it twice.
   */
  tryAgain(): void {
    const waiting = this.unstored.value;
    this.unstored.value = [];
    const claimed = new Set<string>();
    for (const { entry, kept, after } of waiting) {
      const late = this.lateRecord(entry.draft, after, claimed);
      if (late !== undefined) claimed.add(late.id);
      this.begin(entry);
      if (kept || late !== undefined) this.show(entry, kept ? "kept" : "stored", late?.id);
      else this.keep(entry);
    }
  }

  /** Resolves when every entry so far is stored or is among the unstored. */
  settled(): Promise<void> {
    return this.tail;
  }

  private begin(entry: Entry): void {
    if ("find" in entry || "verdict" in entry) this.newest = entry;
  }

  private show(entry: Entry, fate: Fate, record?: string): void {
    if (entry === this.newest) this.last.value = { entry: this.newest, fate, record };
  }

  private async store(draft: Draft): Promise<Stored> {
    try {
      return await this.tablet.add(draft);
    } catch {
      return { stored: false, why: "failed" };
    }
  }

  private newestOwn(): number {
    const chain = this.tablet.signOn.value?.id.split(":")[0];
    return this.tablet.records.value.reduce(
      (newest, record) => (record.id === `${chain}:${record.n}` ? Math.max(newest, record.n) : newest),
      0,
    );
  }

  private lateRecord(draft: Draft, after: number, claimed: ReadonlySet<string>): ReadRecord | undefined {
    const signOn = this.tablet.signOn.value?.id;
    const body = canonical(draft.body);
    return this.tablet.records.value.find(
      ({ id, chain, n, sign_on, known }) =>
        sign_on === signOn &&
        id === `${chain}:${n}` && // what was admitted of a copy of this tablet is not its own
        n > after &&
        !claimed.has(id) &&
        known?.kind === draft.kind &&
        canonical(known.body) === body,
    );
  }
}
