// SPDX-License-Identifier: Apache-2.0
// One open tray under the hand: presses become records in the order they were made, and nothing is called stored
// before the store has said so. What was not stored stays here, and stops the keys.
import { signal } from "@preact/signals";
import type { Mark } from "../folds/tally.js";
import { canonical } from "../records/canonical.js";
import { NOT_SURE, type Draft, type PartDefinition, type ReadRecord } from "../records/kinds.js";
import type { Stored, Tablet } from "../sync/contract.js";
import { isQuickRepeat, nextUndo, type Press } from "./presses.js";
import { zoneDecides } from "./word_class.js";

/** What the session works on. */
export interface Bench {
  readonly batch: string;
  readonly definitionId: string;
  readonly definition: PartDefinition;
  readonly look: string;
  readonly tray: string;
}

/** What a closing states; rework has no key yet and is 0. */
export interface ClosingNumbers {
  readonly places: number;
  readonly empty_counted: number;
  readonly accepted: number;
  readonly rejected: number;
  readonly query: number;
}

/** A find in the making. */
export interface Find {
  readonly defect: string;
  readonly zone?: string;
  readonly piece?: string;
}

export interface FindEntry {
  readonly act: "find" | "repeat" | "undo";
  readonly find: Find;
  readonly draft: Draft;
}

export interface ClosingEntry {
  readonly act: "close";
  readonly draft: Draft;
}

export type Entry = FindEntry | ClosingEntry;

/** kept: made and held in memory, from where it is sent; the store writes it with the next one it takes. */
export type Fate = "storing" | "stored" | "kept";

export interface LastAct {
  readonly entry: FindEntry;
  readonly fate: Fate;
}

/** An entry that the store did not take. `after` is the newest own record of the moment it was offered. */
export interface Unstored {
  readonly entry: Entry;
  readonly kept: boolean;
  readonly after: number;
}

/** A find that waits for its place on the piece; `echoes` counts second taps that came meanwhile. */
export interface Asking {
  readonly find: Find;
  readonly echoes: number;
}

type Keeper = Pick<Tablet, "add" | "records" | "signOn">;
const UNDO_KEY = " undo";

export class TallySession {
  readonly last = signal<LastAct | undefined>(undefined);
  readonly asking = signal<Asking | undefined>(undefined);
  /** Entries that are not in the store, oldest first; while there are any, no key takes a find. */
  readonly unstored = signal<readonly Unstored[]>([]);
  readonly samePiece = signal(false);
  /** Second taps that somebody has said to be one find or two. */
  readonly answered = signal<ReadonlySet<string>>(new Set());
  private before: Press | undefined;
  private latest: Find | undefined;
  private tail: Promise<void> = Promise.resolve();
  private readonly leaving = new Set<string>();

  constructor(
    private readonly tablet: Keeper,
    readonly bench: Bench,
  ) {}

  press(defect: string, at: number): void {
    if (this.unstored.value.length > 0) return;
    const press = { key: defect, at };
    const echo = isQuickRepeat(this.before, press);
    this.before = press;
    if (echo) {
      this.echo();
      return;
    }
    this.settle();
    const piece = this.samePiece.value ? this.lastPiece() : undefined;
    this.samePiece.value = false;
    const find = piece === undefined ? { defect } : { defect, piece };
    this.latest = find;
    if (this.asksWhere(defect)) this.asking.value = { find, echoes: 0 };
    else this.take(find);
  }

  /** Where on the piece the waiting find is. */
  answer(zone: string): void {
    const asked = this.asking.value;
    if (asked === undefined) return;
    this.latest = { ...asked.find, zone };
    this.finish(asked, this.latest);
  }

  /** Take a waiting find as it is: without a zone it counts as the worst class its word has. */
  settle(): void {
    const asked = this.asking.value;
    if (asked !== undefined) this.finish(asked, asked.find);
  }

  /** Take back the last own entry of this tray; a find that still waits for its zone is only dropped. */
  undo(at: number): void {
    if (this.unstored.value.length > 0) return;
    const press = { key: UNDO_KEY, at };
    // A finger that bounces on this key must not take back a second find that nobody meant.
    const bounce = isQuickRepeat(this.before, press);
    this.before = press;
    if (bounce) return;
    this.samePiece.value = false;
    if (this.asking.value !== undefined) {
      this.asking.value = undefined;
      return;
    }
    const target = this.undoable();
    if (target?.known?.kind !== "defect_tallied") return;
    this.withdraw(target.id, target.known.body);
  }

  /** The find that the undo key takes back next. */
  undoable(): ReadRecord | undefined {
    const signOn = this.tablet.signOn.value;
    if (signOn === undefined) return undefined;
    return nextUndo(this.tablet.records.value, this.bench.tray, signOn.id, this.leaving);
  }

  /** The piece a further defect would be added to: the one of the last own find that stands. */
  lastPiece(): string | undefined {
    const target = this.undoable();
    if (target?.known?.kind !== "defect_tallied" || target.known.body.quick_repeat === true) return undefined;
    return target.known.body.piece ?? target.id;
  }

  /** Say what a second tap was. Two: it is recorded once more, as a find that counts. */
  sayHowMany(repeat: Mark, count: 1 | 2): void {
    this.answered.value = new Set([...this.answered.value, repeat.id]);
    if (count === 2) {
      // An echo on a piece that had a find already stays on that piece.
      const onPiece = repeat.piece === repeat.id ? {} : { piece: repeat.piece };
      const inZone = repeat.zone === "" ? {} : { zone: repeat.zone };
      this.take({ defect: repeat.defect, ...inZone, ...onPiece });
    }
    // The echo itself is taken back where its author answers, so that nobody is asked again after a restart.
    if (repeat.sign_on === this.tablet.signOn.value?.id) {
      this.withdraw(repeat.id, { defect: repeat.defect }, count === 2 ? "two" : "one");
    }
  }

  /** Record that every place of the tray was looked at; true once it is stored. */
  async close(numbers: ClosingNumbers): Promise<boolean> {
    const { batch, definitionId, look, tray } = this.bench;
    this.keep({
      act: "close",
      draft: {
        kind: "tray_closed",
        v: 1,
        batch,
        definition: definitionId,
        body: { look, tray, ...numbers, rework: 0, all_looked_at: true },
      },
    });
    await this.tail;
    return this.unstored.value.length === 0;
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
      const late = kept ? undefined : this.lateRecord(entry.draft, after, claimed);
      if (late !== undefined) claimed.add(late.id);
      if (kept || late !== undefined) this.show(entry, kept ? "kept" : "stored");
      else this.keep(entry);
    }
  }

  /** Resolves when everything pressed so far is stored or has stopped the keys. */
  async settled(): Promise<void> {
    this.settle();
    await this.tail;
  }

  private asksWhere(defect: string): boolean {
    const word = this.bench.definition.defects.find((entry) => entry.defect === defect);
    return defect !== NOT_SURE && word !== undefined && zoneDecides(word, this.bench.definition);
  }

  private echo(): void {
    const asked = this.asking.value;
    if (asked !== undefined) this.asking.value = { ...asked, echoes: asked.echoes + 1 };
    else if (this.latest !== undefined) this.take(this.latest, true);
  }

  private finish(asked: Asking, find: Find): void {
    this.asking.value = undefined;
    this.take(find);
    for (let echo = 0; echo < asked.echoes; echo += 1) this.take(find, true);
  }

  private take(find: Find, repeat = false): void {
    const { batch, definitionId, look, tray } = this.bench;
    const body = { look, tray, ...find };
    this.keep({
      act: repeat ? "repeat" : "find",
      find,
      draft: {
        kind: "defect_tallied",
        v: 1,
        batch,
        definition: definitionId,
        body: repeat ? { ...body, quick_repeat: true } : body,
      },
    });
  }

  private withdraw(record: string, find: Find, why?: string): void {
    this.leaving.add(record);
    const { batch, definitionId, look } = this.bench;
    const body = why === undefined ? { look, record } : { look, record, why };
    this.keep({
      act: "undo",
      find,
      draft: { kind: "record_withdrawn", v: 1, batch, definition: definitionId, body },
    });
  }

  private keep(entry: Entry): void {
    this.show(entry, "storing");
    this.tail = this.tail.then(async () => {
      const after = this.newestOwn();
      // What comes behind an entry that was not stored waits with it, so that the order stays.
      const waits = this.unstored.value.length > 0;
      const answer = waits ? ({ stored: false, why: "waits" } as const) : await this.store(entry.draft);
      if (!answer.stored) {
        const kept = answer.kept === true;
        this.unstored.value = [...this.unstored.value, { entry, kept, after }];
      } else if (this.last.value?.entry === entry) {
        this.show(entry, "stored");
      }
    });
  }

  private show(entry: Entry, fate: Fate): void {
    if (entry.act !== "close") this.last.value = { entry, fate };
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
