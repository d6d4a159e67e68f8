// SPDX-License-Identifier: Apache-2.0
// A tablet without its browser: the real store on a disk in memory, the real core, the real requests. It joins them
// as sync/tablet.ts does; what the browser decides there (when a timer fires, what of two answers comes first) is
// decided here by the simulator.
import { NOTHING } from "../../../static/src/folds/copies.js";
import type { Notice, Question } from "../../../static/src/journal/messages.js";
import type { Secret } from "../../../static/src/journal/sealing.js";
import { Store } from "../../../static/src/journal/store.js";
import type { Draft, ReadRecord } from "../../../static/src/records/kinds.js";
import { recall } from "../../../static/src/records/read.js";
import { carryOut, type Outcome } from "../../../static/src/sync/carry_out.js";
import type { About } from "../../../static/src/sync/contract.js";
import {
  beginning,
  dueNext,
  idOf,
  step,
  type CoreEvent,
  type CoreState,
  type Effect,
} from "../../../static/src/sync/core.js";
import { HeldRecords, pairOf } from "../../../static/src/sync/held_records.js";
import type { Identity } from "../../../static/src/sync/identity.js";
import { outlineOf, OwnRecords } from "../../../static/src/sync/own_records.js";
import { Photos } from "../../../static/src/sync/photos.js";
import { ServerClock } from "../../../static/src/sync/server_clock.js";
import { SignOns } from "../../../static/src/sync/sign_ons.js";
import type { StoreLink } from "../../../static/src/sync/store_link.js";
import type { Chance } from "../records/chance.js";
import type { Disk } from "./disk.js";
import type { Cookies } from "./way.js";

/** Records leave a journal here as soon as so many may. */
export const FEW = 3;

/** What stays when the app ends: the disk, the browser's database and cookies, and how wrong the clock is. */
export interface Device {
  readonly name: string;
  disk: Disk;
  identity: Identity;
  cookies: Cookies;
  clockWrong: number;
  /** True when somebody took the database and left the files. */
  wasWiped: boolean;
}

/** Time, for all tablets of a works. */
export interface Times {
  now: number;
}

export type Said = { readonly id: string; readonly hash: string; readonly isStored: boolean };

/** One life of the app on a device. */
export class Life {
  /** Why it records nothing; undefined while it does. */
  ended: "broken" | undefined;
  readonly waiting: Exclude<Effect, { effect: "keep" | "forget" | "turn_over" | "drop_photo" }>[] = [];
  /** Base64 of every sealed PIN it made. */
  readonly sealed: string[] = [];
  own = new OwnRecords([]);
  core: CoreState = beginning(NOTHING, FEW);
  readonly #clock = new ServerClock();
  readonly #held = new HeldRecords();
  readonly #signOns = new SignOns();
  #namedFiles: readonly string[] | undefined;
  #toDo: Effect[] = [];
  #isDoing = false;
  /** Made, and not said to be stored. */
  readonly #inMemory: ReadRecord[] = [];
  /** It has read of the server since it came into reach. */
  #hasHeard = true;
  readonly #photos: Photos;
  /** The most requests it made within ten seconds. */
  busiest = 0;
  #asked: number[] = [];

  private constructor(
    readonly device: Device,
    private readonly store: Store,
    private readonly chance: Chance,
    private readonly times: Times,
    /** Told of each record that was made, and whether it was shown as stored. */
    private readonly onMade: (said: Said) => void,
    /** Told before each request whose it is. */
    private readonly asks: (cookies: Cookies) => void,
  ) {
    const link = { ask: (question: Question) => this.#ask(question) } as unknown as StoreLink;
    this.#photos = new Photos(link, {
      photos: () => this.core.photos,
      append: async (draft) =>
        (await this.add(draft))
          ? { stored: true, record: this.own.all.at(-1) as ReadRecord }
          : { stored: false, why: "failed", kept: true },
      happened: (event) => void this.#happened(event),
    });
  }

  static async start(
    device: Device,
    chance: Chance,
    times: Times,
    onMade: (said: Said) => void,
    asks: (cookies: Cookies) => void,
  ): Promise<Life> {
    const store = await Store.open(device.disk.files, (length) => chance.bytes(length));
    const life = new Life(device, store, chance, times, onMade, asks);
    await life.#opened(store.opened() as Notice & { notice: "opened" });
    return life;
  }

  async #opened(notice: Notice & { notice: "opened" }): Promise<void> {
    this.own = new OwnRecords(notice.lines.map(recall));
    if ((notice.brokenAt ?? this.own.gapAt) !== undefined) {
      this.ended = "broken";
      return;
    }
    const { device } = this.device.identity;
    const made = new Set(this.own.sealed(notice.enclosures.map(({ record }) => record)).map(idOf));
    const unmade = this.#signOns.takeSealed(notice.enclosures, made);
    if (unmade.length > 0) this.store.forget(unmade);
    if (!this.own.isOf(device)) await this.#openChain(this.#whyNew());
    await this.#happened({
      event: "started",
      enclosed: this.own.sealed([...this.#signOns.sealed.keys()]),
      chain: this.own.name,
      base: this.own.base,
      own: this.own.outlines(),
      former: this.own.former(device),
      copies: notice.copies,
      photos: this.#photos.known(notice.photos, this.own.all, this.own.hasAll),
    });
  }

  #whyNew(): "wiped" | "first" | "key_lost" {
    if (this.own.all.length > 0) return "key_lost";
    return this.device.wasWiped ? "wiped" : "first";
  }

  /** Record something; true when it was shown as stored. */
  async add(draft: Draft, secret?: Secret): Promise<boolean> {
    if (this.ended !== undefined) return false;
    const { device, site } = this.device.identity;
    const steady = this.times.now;
    const made_at = this.deviceTime;
    const stamp = {
      made_at,
      offset_min: 60,
      time_zone: "Europe/Berlin",
      skew_ms: this.#clock.skew(made_at, steady),
      sign_on: draft.kind === "chain_opened" ? undefined : this.own.signOn()?.id,
    };
    const answer = await this.store.append(draft, { device, site }, stamp, secret);
    if (answer.line === undefined) return false;
    const record = recall(answer.line);
    this.own = this.own.with(record);
    if (answer.sealed !== undefined) {
      this.#signOns.sealed.set(record.id, answer.sealed);
      this.sealed.push(answer.sealed);
    }
    const isStored = answer.why === undefined && !this.device.disk.isDead;
    this.#inMemory.push(record);
    if (isStored) this.#sayStored();
    else this.onMade({ id: record.id, hash: record.hash, isStored });
    const own = outlineOf(record, undefined);
    const isEnclosed = answer.sealed !== undefined;
    await this.#happened(
      record.n === 1 ? { event: "turned", chain: record.chain, own } : { event: "saved", own, isEnclosed },
    );
    return isStored;
  }

  get deviceTime(): number {
    return START + this.times.now + this.device.clockWrong;
  }

  async signOn(person: string, pin: string | undefined): Promise<void> {
    const key = this.core.copies.sealing?.value;
    const secret = key === undefined || pin === undefined ? undefined : { key, pin };
    await this.add({ kind: "signed_on", v: 1, body: { person } }, secret);
  }

  attach(bytes: Uint8Array<ArrayBuffer>, about: About): Promise<unknown> {
    return this.#photos.attach(bytes, about);
  }

  async takeUp(batch: string, look: string): Promise<void> {
    await this.#happened({ event: "taken_up", pair: pairOf(batch, look) });
  }

  /** It is at rest when it has fetched once more. */
  awaitPull(): void {
    this.#hasHeard = false;
  }

  async comeIntoReach(): Promise<void> {
    this.awaitPull();
    await this.#happened({ event: "online" });
  }

  async beSeen(isVisible: boolean): Promise<void> {
    await this.#happened({ event: "visible", isVisible });
  }

  /** Write what could not be stored before, as the app does every few seconds. */
  async settle(): Promise<void> {
    const answer = await this.store.settle();
    if (answer.why === undefined && !this.device.disk.isDead) this.#sayStored();
  }

  /** What is stored now, stored all that waited in memory before it. */
  #sayStored(): void {
    for (const { id, hash } of this.#inMemory.splice(0)) this.onMade({ id, hash, isStored: true });
  }

  /** How many records it made that it could not say to be stored. */
  get unstored(): number {
    return this.#inMemory.length;
  }

  /** It waits for its push to be answered; with `isFormer`, to one of a chain that it left. */
  isSending(isFormer = false): boolean {
    return this.waiting.some((one) => one.effect === "push" && (!isFormer || one.chain !== this.own.name));
  }

  /**
   * Let one of the requests that wait be answered, whichever it is, or the push among them; or let a timer fire that
   * is due.
   */
  async turn(isOfPush = false): Promise<void> {
    if (this.ended !== undefined) return;
    const any = this.chance.whole(0, Math.max(0, this.waiting.length - 1));
    const at = isOfPush ? this.waiting.findIndex((one) => one.effect === "push") : any;
    const [effect] = this.waiting.splice(at, 1);
    if (effect !== undefined) return this.#request(effect);
    if (dueNext(this.core, this.times.now) <= this.times.now) await this.#happened({ event: "tick" });
  }

  /** Nothing waits. */
  get isSettled(): boolean {
    const { copies, photos } = this.core;
    const pairs = Object.values(copies.pairs);
    return (
      this.core.underWay === undefined &&
      this.isSent &&
      !this.core.isTurning &&
      this.core.wanted.length === 0 &&
      pairs.every((pair) => pair.whole) &&
      copies.old.length === 0 &&
      copies.lost.length === 0 &&
      photos.every((one) => one.state !== "waiting" || !this.#isNamedToServer(one.file)) &&
      this.#signOns.sealed.size === 0
    );
  }

  /**
   * All that it may send is confirmed, as the server that stands now says: one that was put back may lack what an
   * earlier one confirmed.
   */
  get isSent(): boolean {
    const { sending, former } = this.core;
    const areFormer = former.every((one) => !one.isSendable || one.confirmed === one.base.n + one.own.length);
    const isOwn = sending.confirmed === this.own.base.n + this.own.chain.length;
    return this.#hasHeard && !this.core.asksMark && isOwn && areFormer;
  }

  /**
   * A photo waits with the record that names it: for an administrator where the key that signed it is lost, for a
   * lead where it was set aside.
   */
  #isNamedToServer(file: string): boolean {
    const chains = [...this.core.former, this.core.sending];
    const waits = ({ chain, n }: ReadRecord): boolean => {
      const sending = chains.find((one) => one.chain === chain);
      const isSendable = !this.core.former.some((one) => one.chain === chain && !one.isSendable);
      return !isSendable || (sending?.exceptions.some((one) => one.n === n) ?? false);
    };
    return this.own.all.some(
      (record) =>
        record.known?.kind === "photo_attached" && record.known.body.file === file && !waits(record),
    );
  }

  get dueAt(): number {
    return dueNext(this.core, this.times.now);
  }

  /** The lines of the server's own that it holds with the server's signature. */
  get signed(): readonly ReadRecord[] {
    const { old, lines, lost, signatures } = this.core.copies;
    const held = [...old, ...lines, ...lost.map(({ line }) => line)].map(recall);
    return held.filter(({ id }) => id in signatures);
  }

  /** What its screens fold. */
  shown(): readonly ReadRecord[] {
    return this.#held.all(this.core.copies, this.own.all);
  }

  get authors(): ReadonlyMap<string, string> {
    this.#signOns.learn(this.shown(), this.core.copies.signOns);
    return this.#signOns.authors;
  }

  async #request(effect: Life["waiting"][number]): Promise<void> {
    if (effect.effect === "open_chain") return this.#turnTo(effect.why);
    this.asks(this.device.cookies);
    this.#asked = [...this.#asked.filter((at) => at > this.times.now - 10_000), this.times.now];
    this.busiest = Math.max(this.busiest, this.#asked.length);
    const outcome = await carryOut(effect, {
      identity: this.device.identity,
      former: this.core.former,
      own: (chain) => this.own.of(chain),
      enclosures: this.#signOns.sealed,
      clock: this.#clock,
      readPhoto: (file, offset, length) => this.#photos.read(file, offset, length),
    });
    if (outcome.event === "pulled") this.#hasHeard = true;
    await this.#happened(outcome);
  }

  async #openChain(why: "first" | "wiped" | "key_lost" | "forked" | "behind"): Promise<boolean> {
    const before = this.own.name;
    await this.add({ kind: "chain_opened", v: 1, body: { why } });
    return this.own.name !== before;
  }

  async #turnTo(why: "forked" | "behind"): Promise<void> {
    const person = this.own.signOn()?.person;
    const isOpened = await this.#openChain(why);
    if (isOpened && person !== undefined) await this.add({ kind: "signed_on", v: 1, body: { person } });
    if (!isOpened) await this.#happened({ event: "not_turned" });
  }

  async #happened(outcome: Outcome): Promise<void> {
    const event = { ...outcome, now: this.times.now, chance: this.chance.next() } as CoreEvent;
    const { state, effects } = step(this.core, event);
    this.core = state;
    this.#toDo.push(...effects);
    for (const effect of effects) {
      if (effect.effect === "forget")
        for (const record of effect.records) this.#signOns.sealed.delete(record);
    }
    await this.#do();
    this.#signOns.learn(this.shown(), this.core.copies.signOns);
    const records = this.#signOns.judgedOf(this.core.enclosed);
    if (records.length > 0 && this.core.isStarted) await this.#happened({ event: "judged", records });
    const { files } = this.#held;
    if (files !== this.#namedFiles) {
      this.#namedFiles = files;
      await this.#happened({ event: "files_named", files });
    }
  }

  /** The store does one thing after another, in the order in which it was asked. */
  async #do(): Promise<void> {
    if (this.#isDoing) return;
    this.#isDoing = true;
    for (let effect = this.#toDo.shift(); effect !== undefined; effect = this.#toDo.shift()) {
      await this.#doOne(effect);
    }
    this.#isDoing = false;
  }

  async #doOne(effect: Effect): Promise<void> {
    switch (effect.effect) {
      case "keep": {
        const { why } = await this.#ask({ ask: "keep", entry: effect.entry });
        if (effect.isAwaited) await this.#happened({ event: "kept", isSafe: why === undefined });
        return;
      }
      case "forget":
        await this.#ask({ ask: "forget", records: effect.records });
        return;
      case "turn_over": {
        const { why } = await this.#ask({ ask: "turn_over", leaving: effect.leaving });
        const left = why === undefined ? effect.leaving : undefined;
        if (left !== undefined) this.own = this.own.without(left);
        return this.#happened({ event: "turned_over", left });
      }
      case "drop_photo":
        return this.#photos.drop(effect.file);
      default:
        this.waiting.push(effect);
    }
  }

  /** The worker's answers, as journal/worker.ts gives them. */
  async #ask(
    question: Question,
  ): Promise<{ readonly why?: string; readonly file?: string; readonly bytes?: Uint8Array }> {
    const { store } = this;
    try {
      switch (question.ask) {
        case "forget":
          store.forget(question.records);
          return {};
        case "turn_over":
          return await store.turnOver(question.leaving);
        case "keep":
          return await store.keep(question.entry);
        case "keep_photo":
          return await store.keepPhoto(question.bytes);
        case "read_photo":
          return store.readPhoto(question.file, question.offset, question.length);
        case "drop_photo":
          store.dropPhoto(question.file);
          return {};
        default:
          throw new Error(`nobody asks for ${question.ask} here`);
      }
    } catch (problem) {
      return { why: problem instanceof Error ? problem.name : "failed" };
    }
  }
}

export const START = 1_795_608_000_000;
