// SPDX-License-Identifier: Apache-2.0
// Whole tablets without a browser: the real store on files in memory, the real core, the real records. What
// stands between them and the model of the server is a way with faults, and kills.
import { MOST_PAIRS, NOTHING } from "../../../static/src/folds/copies.js";
import { Store } from "../../../static/src/journal/store.js";
import type { Draft, ReadRecord } from "../../../static/src/records/kinds.js";
import { decode, read } from "../../../static/src/records/read.js";
import {
  beginning,
  dueNext,
  step,
  type CoreEvent,
  type CoreState,
  type Effect,
  type Mark,
} from "../../../static/src/sync/core.js";
import { HeldRecords, pairOf } from "../../../static/src/sync/held_records.js";
import { OwnRecords, outlineOf } from "../../../static/src/sync/own_records.js";
import { BATCH, DEFINITION, PART, START } from "../folds/bench.js";
import { MemoryFile } from "../journal/memory_file.js";
import { Chance } from "../records/chance.js";

const SERVER = "s".repeat(26);
const DEVICE = `${SERVER}:3`;
const LOOK = "first";
const PAGE_LINES = 5;
/** Records leave a journal in this test as soon as so many may. */
const FEW = 3;

export type Fault = "none" | "lost_request" | "lost_answer" | "portal";

/** The log in the order of arrival, and for each chain what is held; it checks every line it is given. */
export class LineServer {
  readonly log: ReadRecord[] = [];

  push(lines: readonly string[]): void {
    for (const line of lines) {
      const record = decode(line);
      const before = this.#at(record.chain, record.n - 1);
      if (this.#at(record.chain, record.n) !== undefined) continue;
      if (before !== undefined && record.known?.previous !== before.hash)
        throw new Error(`a fork at ${record.id}`);
      this.log.push(record);
    }
  }

  /** Its last verified copy is some records old. */
  mark(chain: string): Mark {
    let n = 0;
    while (this.#at(chain, n + 1) !== undefined) n += 1;
    const safe = Math.max(0, n - 2);
    return { epoch: "e", n, hash: this.#at(chain, n)?.hash ?? "", held: [], exceptions: [], safe };
  }

  /** Records of the batch behind a place, without those of the asker's own chain from the first it holds on. */
  page(after: number, chain: string, kept: number): { lines: string[]; end: number } {
    const lines: string[] = [];
    let end = after;
    while (end < this.log.length && lines.length < PAGE_LINES) {
      const record = this.log[end];
      const isHeld = record?.chain === chain && record.n >= kept;
      if (record?.batch === BATCH && !isHeld) lines.push(record.line);
      end += 1;
    }
    return { lines, end };
  }

  #at(chain: string, n: number): ReadRecord | undefined {
    return this.log.find((record) => record.chain === chain && record.n === n);
  }
}

type Files = Record<"journal-a" | "journal-b" | "fetched" | "files", MemoryFile>;

/** A tablet at the bench: it opens a tray, finds, and takes back; `stored` is what was shown as stored. */
export class WholeTablet {
  readonly stored = new Set<string>();
  #files: Files;
  #store: Store | undefined;
  #own = new OwnRecords([]);
  #core: CoreState = beginning(NOTHING, FEW);
  #now = 0;
  #waiting: Effect[] = [];
  #isElsewhere = false;
  readonly #held = new HeldRecords();

  constructor(
    readonly server: LineServer,
    readonly chance: Chance,
  ) {
    this.#files = {
      "journal-a": new MemoryFile(),
      "journal-b": new MemoryFile(),
      fetched: new MemoryFile(),
      files: new MemoryFile(),
    };
  }

  /** Begin, or begin again on what a new process finds. */
  async start(): Promise<void> {
    this.#store = await Store.open(this.#files, (length) => this.chance.bytes(length));
    const opened = this.#store.opened();
    if (opened.notice !== "opened" || opened.brokenAt !== undefined) throw new Error("the journal is broken");
    this.#own = new OwnRecords(opened.lines.map((line) => decode(line)));
    this.#core = beginning(NOTHING, FEW);
    this.#waiting = [];
    if (this.#own.all.length === 0) await this.#add({ kind: "chain_opened", v: 1, body: { why: "first" } });
    this.#happens({
      event: "started",
      chain: this.#own.name,
      base: this.#own.base,
      own: this.#own.outlines(),
      former: this.#own.former(DEVICE),
      copies: opened.copies,
      enclosed: [],
    });
    if (!this.#isElsewhere) this.comeBack();
    if (this.#own.signOn() === undefined) {
      await this.#add({ kind: "signed_on", v: 1, body: { person: `${SERVER}:5` } });
    }
  }

  /**
   * Kill the process: what was not flushed may be there in part. Records that were in memory only are written
   * first: losing them after the server had them is another case, in which the chain is behind the server's.
   */
  async kill(): Promise<void> {
    await this.#store?.settle();
    const torn = (file: MemoryFile): MemoryFile => file.afterKill(this.chance.whole(0, 400));
    const { "journal-a": a, "journal-b": b, fetched, files } = this.#files;
    this.#files = { "journal-a": torn(a), "journal-b": torn(b), fetched: torn(fetched), files: torn(files) };
    await this.start();
  }

  /** One tap; the disk may take less of it than it is given. */
  async tap(room = Infinity): Promise<void> {
    const about = { batch: BATCH, definition: PART, v: 1 } as const;
    if (this.#isElsewhere) return;
    // As the screens do, by what the tablet shows: its own beginning may have left the journal.
    const own = this.shown().filter((record) => record.chain === this.#own.name);
    const tray = own.find((record) => record.kind === "tray_opened")?.id;
    const last = own.filter((record) => record.kind === "defect_tallied").at(-1)?.id;
    for (const name of ["journal-a", "journal-b"] as const) this.#files[name].faults.room = room;
    if (tray === undefined) {
      await this.#add({ ...about, kind: "tray_opened", body: { look: LOOK, number: 1, places: 9 } });
    } else if (this.chance.whole(1, 6) === 1) {
      await this.#add({ kind: "signed_on", v: 1, body: { person: `${SERVER}:5` } });
    } else if (last !== undefined && this.chance.whole(1, 4) === 1) {
      await this.#add({ batch: BATCH, v: 1, kind: "record_withdrawn", body: { look: LOOK, record: last } });
    } else {
      const zone = this.chance.flip() ? { zone: "spine" } : {};
      await this.#add({
        ...about,
        kind: "defect_tallied",
        body: { look: LOOK, tray, defect: "lap", ...zone },
      });
    }
    for (const name of ["journal-a", "journal-b"] as const) this.#files[name].faults.room = Infinity;
  }

  /** Work on so many other batches that the one of this test is carried no more. */
  goElsewhere(): void {
    this.#isElsewhere = true;
    for (let other = 0; other < MOST_PAIRS; other += 1) {
      this.#happens({ event: "taken_up", pair: pairOf(`${SERVER}:${100 + other}`, LOOK) });
    }
  }

  comeBack(): void {
    this.#isElsewhere = false;
    this.#happens({ event: "taken_up", pair: pairOf(BATCH, LOOK) });
  }

  /** How many of its records left the journal. */
  get left(): number {
    return this.#own.base.n;
  }

  /** Answer the oldest request, or let time go on to the next thing that is due. */
  async turn(fault: Fault): Promise<void> {
    const effect = this.#waiting.shift();
    if (effect !== undefined) return this.#carryOut(effect, fault);
    const due = Math.min(dueNext(this.#core, this.#now), this.#now + 60_000);
    this.#now = Math.ceil(Math.max(this.#now + 1, due));
    this.#happens({ event: "tick" });
  }

  get isConfirmed(): boolean {
    return this.#core.sending.confirmed === this.#own.base.n + this.#own.chain.length;
  }

  /** What its screens fold. */
  shown(): readonly ReadRecord[] {
    return this.#held.all(this.#core.copies, this.#own.all);
  }

  /** The ids a new process would find in the journal. */
  async inJournal(): Promise<ReadonlySet<string>> {
    const copy: Files = {
      "journal-a": this.#files["journal-a"].afterKill(),
      "journal-b": this.#files["journal-b"].afterKill(),
      fetched: new MemoryFile(),
      files: new MemoryFile(),
    };
    const opened = (await Store.open(copy, (length) => new Uint8Array(length))).opened();
    return new Set(opened.notice === "opened" ? opened.lines.map((line) => read(line).id) : []);
  }

  async #add(draft: Draft): Promise<void> {
    const stamp = {
      made_at: START + this.#now,
      offset_min: 60,
      time_zone: "Europe/Berlin",
      skew_ms: 0,
      sign_on: this.#own.signOn()?.id,
    };
    const writer = { device: DEVICE, site: `${SERVER}:1` };
    const answer = await this.#store?.append(draft, writer, stamp);
    if (answer?.line === undefined) throw new Error(`no record was made: ${answer?.why ?? "no store"}`);
    const record = decode(answer.line);
    this.#own = this.#own.with(record);
    if (answer.why === undefined) for (const one of this.#own.all) this.stored.add(one.id);
    this.#happens({ event: "saved", own: outlineOf(record, undefined) });
  }

  async #carryOut(effect: Effect, fault: Fault): Promise<void> {
    const [chain = ""] = (this.#own.chain[0]?.id ?? "").split(":");
    const why = fault === "portal" ? "not_ours" : "no_answer";
    switch (effect.effect) {
      case "push":
      case "ask_mark":
        if (fault === "none" || fault === "lost_answer") {
          if (effect.effect === "push") {
            this.server.push(
              this.#own.chain
                .filter(({ n }) => effect.first <= n && n <= effect.last)
                .map((record) => record.line),
            );
          }
        }
        if (fault !== "none") return this.#happens({ event: "send_failed", why });
        return this.#happens({ event: "marked", mark: this.server.mark(chain) });
      case "pull": {
        if (fault !== "none") return this.#happens({ event: "pull_failed", why });
        // A pair just taken up has no cursor of its own: it is sent from the beginning.
        const pair = effect.carry[pairOf(BATCH, LOOK)];
        const from = Number(pair?.cursor ?? "0");
        const { lines, end } = this.server.page(from, chain, this.#own.base.n + 1);
        const more = end < this.server.log.length;
        const page = {
          chain,
          epoch: "e",
          cursor: String(end),
          more,
          pairs: Object.keys(effect.carry),
          lines,
        };
        return this.#happens({ event: "pulled", page, newest: this.server.mark(chain).n });
      }
      case "keep": {
        const answer = await this.#store?.keep(effect.entry);
        if (effect.isAwaited) this.#happens({ event: "kept", isSafe: answer?.why === undefined });
        return;
      }
      case "turn_over": {
        const answer = await this.#store?.turnOver(effect.leaving);
        const left = answer?.why === undefined ? effect.leaving : undefined;
        if (left !== undefined) this.#own = this.#own.without(left);
        return this.#happens({ event: "turned_over", left });
      }
      case "open_chain":
        throw new Error(`no chain of this test is copied, and yet it is ${effect.why}`);
      case "renew_session":
        return this.#happens({ event: "renewed" });
      case "list_batches":
        return this.#happens({ event: "listed", batches: { as_of: this.#now, lines: [] } });
    }
  }

  #happens(event: Untimed): void {
    const timed = { ...event, now: this.#now, chance: this.chance.next() } as CoreEvent;
    const { state, effects } = step(this.#core, timed);
    this.#core = state;
    this.#waiting.push(...effects);
  }
}

type Untimed = CoreEvent extends infer E ? (E extends CoreEvent ? Omit<E, "now" | "chance"> : never) : never;

export const DEFINITIONS = new Map([[PART, DEFINITION]]);
