// SPDX-License-Identifier: Apache-2.0
// The tablet: store, sync and who is signed on, as signals for the screens. Its state comes from the store alone,
// so it starts the same with and without a server.
import { batch as together, signal } from "@preact/signals";
import type { Asking } from "../api/requests.js";
import { NOTHING, type Entry } from "../folds/copies.js";
import type { Answer, Notice, Question } from "../journal/messages.js";
import type { Secret } from "../journal/sealing.js";
import type { Draft, ReadRecord, RecordOf } from "../records/kinds.js";
import { recall } from "../records/read.js";
import { carryOut, isFromServer, type Outcome } from "./carry_out.js";
import type {
  About,
  CertificateOf,
  BatchLine,
  Phase,
  PhotoLine,
  Proof,
  Read,
  Stored,
  SyncState,
  Tablet,
} from "./contract.js";
import { SignOns } from "./sign_ons.js";
import { beginning, idOf, dueNext, step, type CoreEvent, type CoreState, type Effect } from "./core.js";
import { askDemo, enrol } from "./enrolment.js";
import { drawn } from "./frames.js";
import { HeldRecords, pairOf } from "./held_records.js";
import { readIdentity, type Identity } from "./identity.js";
import { readReport } from "./report.js";
import { outlineOf, OwnRecords } from "./own_records.js";
import { Photos } from "./photos.js";
import { ServerClock } from "./server_clock.js";
import { stampOf } from "./stamp.js";
import { StoreLink } from "./store_link.js";
import { isWaiting, syncStateOf } from "./sync_state.js";

const SHORTEST_WAIT_MS = 20;
const LONGEST_WAIT_MS = 60_000;

type WhyNew = RecordOf<"chain_opened">["body"]["why"];

class OneTablet implements Tablet {
  readonly state = signal<Phase>({ phase: "starting" });
  readonly sync = signal<SyncState>(syncStateOf(beginning(NOTHING), () => [], undefined));
  readonly records = signal<readonly ReadRecord[]>([]);
  readonly files = signal<Readonly<Record<string, string>>>({});
  readonly batches = signal<{ asOf: number; lines: readonly BatchLine[] } | undefined>(undefined);
  readonly signOn = signal<{ id: string; person: string } | undefined>(undefined);
  readonly letters = signal("");
  readonly photos = signal<readonly PhotoLine[]>([]);
  readonly proven = signal<Proof>("none");
  readonly authors = signal<ReadonlyMap<string, string>>(new Map());
  readonly isKept = signal<boolean | undefined>(undefined);

  readonly #link: StoreLink;
  readonly #photos: Photos;
  readonly #clock = new ServerClock();
  readonly #held = new HeldRecords();
  readonly #signOns = new SignOns();
  #identity: Identity | undefined;
  /** It is read while the store opens; where that fails, reading it again says why. */
  readonly #readEarly = readIdentity().catch(() => undefined);
  #own = new OwnRecords([]);
  #core: CoreState = beginning(NOTHING);
  #heardAt: number | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #isOpen = false;
  /** True while the files were let go because nobody looks at this tab. */
  #isLetGo = false;
  /** True when a tablet that was enrolled before found no files. */
  #wasWiped = false;
  #appending = 0;
  /** The files named by records that the core was told of. */
  #namedFiles: readonly string[] | undefined;
  /** Settles when a sign-on and what stands behind it were recorded: nothing else may come between the two. */
  #paired: Promise<unknown> | undefined;
  /** Settles when a new chain was opened; there while one is. */
  #turning: Promise<void> | undefined;
  /** Resolves when it is known whether the files are ours. */
  #opening: Promise<void>;
  #isKnown: () => void = () => undefined;

  constructor() {
    this.#opening = this.#newOpening();
    this.#link = new StoreLink((notice) => void this.#hear(notice));
    this.#photos = new Photos(this.#link, {
      photos: () => this.#core.photos,
      append: (draft) => this.#append(draft),
      happened: (event) => this.#happened(event),
    });
    document.addEventListener("visibilitychange", () => this.#seen(document.visibilityState === "visible"));
    document.addEventListener("freeze", () => this.#letGo());
    document.addEventListener("resume", () => this.#seen(document.visibilityState === "visible"));
    addEventListener("online", () => this.#happened({ event: "online" }));
  }

  async enrol(asking: Asking): Promise<{ ok: true } | { ok: false; code: string }> {
    if (this.#identity !== undefined) return { ok: false, code: "enrolled-before" };
    const before = this.state.value;
    const enrolled = await enrol(asking, this.#clock, (number) => {
      this.state.value = { phase: "not_enrolled", demo: false, number };
    });
    if ("code" in enrolled) {
      this.state.value = before;
      return { ok: false, code: enrolled.code };
    }
    this.#identity = enrolled.identity;
    const made = await this.#link.ask({ ask: "make" });
    return made.why === undefined ? { ok: true } : { ok: false, code: "no-store" };
  }

  async signOnAs(person: string, pin?: string, behind?: Draft): Promise<Stored> {
    while (this.#paired !== undefined) await this.#paired;
    const both = this.#signOn(person, pin, behind);
    this.#paired = both;
    const answer = await both;
    this.#paired = undefined;
    return answer;
  }

  async #signOn(person: string, pin: string | undefined, behind: Draft | undefined): Promise<Stored> {
    const key = this.#core.copies.sealing?.value;
    const secret = key === undefined || pin === undefined ? undefined : { key, pin };
    const answer = await this.#appendNow({ kind: "signed_on", v: 1, body: { person } }, secret);
    this.#publishRecords();
    return behind === undefined || !answer.stored ? answer : this.#appendNow(behind);
  }

  proofOf(signOn: string): Proof {
    return this.#signOns.proof(signOn);
  }

  add(draft: Draft): Promise<Stored> {
    return this.#append(draft);
  }

  now(): number {
    return this.#clock.time(Date.now(), performance.now());
  }

  async attach(bytes: Uint8Array<ArrayBuffer>, about: About | CertificateOf): Promise<Stored> {
    if (!this.#isOpen) await this.#opening;
    return this.#photos.attach(bytes, about);
  }

  photo(file: string): Promise<Blob | undefined> {
    return this.#photos.whole(file);
  }

  carry(batch: string, look: string): void {
    this.#happened({ event: "taken_up", pair: pairOf(batch, look) });
  }

  isWhole(batch: string, look: string): boolean {
    return this.#core.copies.pairs[pairOf(batch, look)]?.whole ?? false;
  }

  syncNow(): void {
    this.#happened({ event: "online" });
  }

  exportJournal(): Promise<Blob> {
    const lines = this.#own.all.map((record) => `${record.line}\n`);
    return Promise.resolve(new Blob(lines, { type: "application/x-ndjson" }));
  }

  read(path: string): Promise<Read> {
    return readReport(path, undefined, this.#own.signOn()?.id, () => this.syncNow());
  }

  ask(path: string, body: object): Promise<Read> {
    return readReport(path, body, this.#own.signOn()?.id, () => this.syncNow());
  }

  #newOpening(): Promise<void> {
    return new Promise((resolve) => {
      this.#isKnown = resolve;
    });
  }

  async #hear(notice: Notice): Promise<void> {
    try {
      await this.#learn(notice);
    } catch {
      // The browser's database or the worker failed in a way nobody foresaw: no recording, and it is said.
      this.#isOpen = false;
      this.state.value = { phase: "cannot_record", why: "failed" };
    }
    this.#isKnown();
  }

  async #learn(notice: Notice): Promise<void> {
    switch (notice.notice) {
      case "elsewhere":
        this.#isOpen = false;
        this.state.value = { phase: "open_elsewhere" };
        return;
      case "no_store":
        this.#isOpen = false;
        this.state.value = { phase: "cannot_record", why: notice.why };
        return;
      case "no_files":
        return this.#startWithoutFiles();
      case "opened":
        return this.#opened(notice);
    }
  }

  /** Where there was no identity at first, another tab may have enrolled meanwhile. */
  async #identify(): Promise<void> {
    this.#identity ??= (await this.#readEarly) ?? (await readIdentity());
  }

  async #startWithoutFiles(): Promise<void> {
    await this.#identify();
    // The files of an enrolled tablet can be gone: a kill took them while they were made, or somebody cleared them.
    if (this.#identity === undefined) return this.#waitForEnrolment();
    this.#wasWiped = true;
    await this.#link.ask({ ask: "make" });
  }

  async #opened(notice: Notice & { notice: "opened" }): Promise<void> {
    await this.#identify();
    this.#own = new OwnRecords(notice.lines.map(recall));
    this.letters.value = this.#identity?.letters ?? "";
    const broken = notice.brokenAt ?? this.#own.gapAt;
    if (broken !== undefined) {
      this.#publishRecords();
      this.state.value = { phase: "journal_broken", at: broken };
      return;
    }
    if (this.#identity === undefined) {
      await this.#waitForEnrolment();
      return;
    }
    this.#isOpen = true;
    this.#askToKeep();
    const made = new Set(this.#own.sealed(notice.enclosures.map(({ record }) => record)).map(idOf));
    const unmade = this.#signOns.takeSealed(notice.enclosures, made);
    if (unmade.length > 0) void this.#link.ask({ ask: "forget", records: unmade });
    if (!this.#own.isOf(this.#identity.device)) await this.#openChain(this.#whyNew());
    if (!this.#own.isOf(this.#identity.device)) {
      this.#isOpen = false;
      this.state.value = { phase: "cannot_record", why: "failed" };
      return;
    }
    const enclosed = this.#own.sealed([...this.#signOns.sealed.keys()]);
    this.#happened({
      event: "started",
      enclosed,
      chain: this.#own.name,
      base: this.#own.base,
      own: this.#own.outlines(),
      former: this.#own.former(this.#identity.device),
      copies: notice.copies,
      photos: this.#photos.known(notice.photos, this.#own.all, this.#own.hasAll),
    });
    this.#seen(document.visibilityState === "visible");
    this.state.value = { phase: "ready" };
  }

  #whyNew(): WhyNew {
    if (this.#wasWiped) return "wiped";
    return this.#own.all.length === 0 ? "first" : "key_lost";
  }

  async #openChain(why: WhyNew): Promise<boolean> {
    return this.#added(await this.#write({ kind: "chain_opened", v: 1, body: { why } })) !== undefined;
  }

  /**
   * Go on in a new chain. Whoever is signed on stays so, under a sign-on of the new chain: one of the old may name
   * another person on the server.
   */
  async #turn(why: "forked" | "behind"): Promise<void> {
    const person = this.#own.signOn()?.person;
    const isOpened = await this.#openChain(why);
    if (isOpened && person !== undefined) {
      this.#added(await this.#write({ kind: "signed_on", v: 1, body: { person } }));
    }
    this.#turning = undefined;
    this.#publishRecords();
    if (!isOpened) this.#happened({ event: "not_turned" });
  }

  /** Asked at every start: a browser may say no today, and yes once the app was installed. */
  #askToKeep(): void {
    void navigator.storage.persist().then((isKept) => (this.isKept.value = isKept));
  }

  async #waitForEnrolment(): Promise<void> {
    this.state.value = { phase: "not_enrolled", demo: undefined };
    const demo = await askDemo(() => this.#identity === undefined);
    if (this.#identity !== undefined) return;
    this.state.value = { phase: "not_enrolled", demo };
    if (demo !== true) this.#askToKeep();
  }

  async #append(draft: Draft): Promise<Stored> {
    while (this.#paired !== undefined) await this.#paired;
    return this.#appendNow(draft);
  }

  async #appendNow(draft: Draft, secret?: Secret): Promise<Stored> {
    if (!this.#isOpen) await this.#opening;
    if (this.#turning !== undefined) await this.#turning;
    if (!this.#isOpen) return { stored: false, why: "not_open" };
    const answer = await this.#write(draft, secret);
    const record = this.#added(answer);
    const { why } = answer;
    if (record === undefined || why !== undefined)
      return { stored: false, why: why ?? "failed", kept: record !== undefined };
    return { stored: true, record };
  }

  async #write(draft: Draft, secret?: Secret): Promise<Answer> {
    if (this.#identity === undefined) return { why: "not_open" };
    const { device, site } = this.#identity;
    const about = {
      draft,
      writer: { device, site },
      stamp: stampOf(draft, this.#clock, this.#own.signOn()?.id),
    };
    const question: Question = { ask: "append", ...about, ...(secret === undefined ? {} : { secret }) };
    this.#appending += 1;
    const answer = await this.#link.append(question, (late) => this.#added(late));
    this.#appending -= 1;
    return answer;
  }

  /** A record was made, stored or kept in memory: either way it is ours, is shown, and goes to the server. */
  #added({ line, sealed }: Answer): ReadRecord | undefined {
    if (line === undefined) return undefined;
    const record = recall(line);
    this.#own = this.#own.with(record);
    if (sealed !== undefined) this.#signOns.sealed.set(record.id, sealed);
    this.#publishRecords();
    const own = outlineOf(record, undefined);
    const isEnclosed = sealed !== undefined;
    this.#happened(
      record.n === 1 ? { event: "turned", chain: record.chain, own } : { event: "saved", own, isEnclosed },
    );
    return record;
  }

  #happened(outcome: Outcome): void {
    const event = { ...outcome, now: performance.now(), chance: Math.random() } as CoreEvent;
    const { state, effects } = step(this.#core, event);
    this.#core = state;
    for (const effect of effects) void this.#do(effect);
    this.#publish();
    const records = this.#signOns.judgedOf(state.enclosed);
    if (records.length > 0 && state.isStarted) this.#happened({ event: "judged", records });
    const { files } = this.#held;
    if (files !== this.#namedFiles) {
      this.#namedFiles = files;
      this.#happened({ event: "files_named", files });
    }
    this.#wait();
    if (document.visibilityState === "hidden" && this.#isIdle()) this.#letGo();
  }

  async #do(effect: Effect): Promise<void> {
    if (effect.effect === "keep") return this.#keep(effect.entry, effect.isAwaited);
    if (effect.effect === "forget") {
      for (const record of effect.records) this.#signOns.sealed.delete(record);
      await this.#link.ask({ ask: "forget", records: effect.records });
      return;
    }
    if (effect.effect === "turn_over") {
      const { why } = await this.#link.ask({ ask: "turn_over", leaving: effect.leaving });
      const left = why === undefined ? effect.leaving : undefined;
      if (left !== undefined) this.#own = this.#own.without(left);
      return this.#happened({ event: "turned_over", left });
    }
    if (effect.effect === "drop_photo") return this.#photos.drop(effect.file);
    if (effect.effect === "open_chain") {
      this.#turning ??= this.#turn(effect.why);
      return this.#turning;
    }
    if (this.#identity === undefined || this.#own.name === "") return;
    // To sign and to send takes longer than to draw: whoever tapped sees it stored first.
    await drawn();
    const asker = {
      identity: this.#identity,
      former: this.#core.former,
      own: (chain: string) => this.#own.of(chain),
      enclosures: this.#signOns.sealed,
      clock: this.#clock,
      readPhoto: (file: string, offset: number, length: number) => this.#photos.read(file, offset, length),
    };
    const outcome = await carryOut(effect, asker);
    if (isFromServer(outcome)) this.#heardAt = Date.now();
    this.#happened(outcome);
  }

  async #keep(entry: Entry, isAwaited: boolean): Promise<void> {
    const { why } = await this.#link.ask({ ask: "keep", entry });
    if (isAwaited) this.#happened({ event: "kept", isSafe: why === undefined });
  }

  #publish(): void {
    together(() => {
      this.sync.value = syncStateOf(this.#core, (chain) => this.#own.of(chain), this.#heardAt);
      const list = this.#core.copies.batches;
      if (list?.as_of !== this.batches.value?.asOf) {
        this.batches.value = list === undefined ? undefined : { asOf: list.as_of, lines: list.lines };
      }
      this.photos.value = this.#core.photos;
      this.#publishRecords();
    });
  }

  #publishRecords(): void {
    const { copies } = this.#core;
    const records = this.#held.all(copies, this.#own.all);
    this.#signOns.learn(records, copies.signOns);
    const before = this.signOn.value;
    const present = this.#own.signOn();
    together(() => {
      this.records.value = records;
      this.files.value = copies.files;
      this.authors.value = this.#signOns.authors;
      // While a new chain is being opened, whoever is signed on stays so.
      if (this.#turning === undefined && before?.id !== present?.id) this.signOn.value = present;
      this.proven.value = this.#signOns.proof(present?.id);
    });
  }

  #wait(): void {
    clearTimeout(this.#timer);
    const wait = dueNext(this.#core, performance.now()) - performance.now();
    if (!this.#isOpen || wait === Infinity) return;
    const bounded = Math.min(LONGEST_WAIT_MS, Math.max(SHORTEST_WAIT_MS, wait));
    this.#timer = setTimeout(() => this.#happened({ event: "tick" }), bounded);
  }

  #seen(isVisible: boolean): void {
    if (isVisible && this.#isLetGo) {
      this.#isLetGo = false;
      void this.#link.ask({ ask: "take" });
    }
    this.#happened({ event: "visible", isVisible });
  }

  /** Nothing waits to be stored, sent or confirmed. */
  #isIdle(): boolean {
    const { sending, former, photos } = this.#core;
    if (photos.some((one) => one.state === "waiting")) return false;
    return this.#mayLetGo() && ![sending, ...former.filter((one) => one.isSendable)].some(isWaiting);
  }

  #mayLetGo(): boolean {
    return this.#isOpen && !this.#isLetGo && !this.#link.isUnsafe && this.#appending === 0;
  }

  /** Let another tab have the files; this one takes them again, and reads them anew, when it is looked at. */
  #letGo(): void {
    if (!this.#mayLetGo()) return;
    this.#isLetGo = true;
    this.#isOpen = false;
    this.#opening = this.#newOpening();
    clearTimeout(this.#timer);
    void this.#link.ask({ ask: "let_go" });
  }
}

/** The one tablet of this page. */
export function startTablet(): Tablet {
  return new OneTablet();
}
