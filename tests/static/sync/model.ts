// SPDX-License-Identifier: Apache-2.0
// A small model of the server and of the way to it, written from docs/sync.md and from nothing of the tablet's,
// and a tablet that is only its core. Time is a number; nothing happens by itself.
import { after, NOTHING, type Copies, type Entry } from "../../../static/src/folds/copies.js";
import {
  beginning,
  dueNext,
  step,
  type CoreEvent,
  type CoreState,
  type Effect,
} from "../../../static/src/sync/core.js";
import { lastAnswered, NOTHING_LEFT } from "../../../static/src/sync/outbox.js";
import type { Mark, Own } from "../../../static/src/sync/outbox.js";

export const RECORD_BYTES = 600;

/** What the way does to the next request. */
export type Way =
  | "open"
  | "lost_request"
  | "lost_answer"
  | "portal"
  | "too_much"
  | "busy"
  /** The server's disk is full: it still answers whoever has nothing to be kept. */
  | "cannot_write"
  | "twice";

/** A line as the model knows it: its hash, and the hash it continues. */
export interface ModelLine extends Own {
  readonly previous: string;
}

/** The first chain of a tablet; a clone has the same. */
export const FIRST_CHAIN = "c1";

export class ModelServer {
  epoch = "e1";
  /** The bytes held of the first chain, by number; of other tablets' records only the lines matter. */
  held = new Map<number, string>();
  /** The same of every other chain. */
  others = new Map<string, Map<number, string>>();
  /** What had no place: chain, number and hash. */
  aside = new Set<string>();
  log: string[] = [];
  session = true;
  /** Sign-ons whose sealed PINs were judged, and how often each of them came. */
  judged = new Set<string>();
  came = new Map<string, number>();
  /** True while nobody judges: a pair that waits for a lead. */
  isBusy = false;
  readonly #previous = new Map<string, string>();

  heldOf(chain: string): Map<number, string> {
    if (chain === FIRST_CHAIN) return this.held;
    const held = this.others.get(chain) ?? new Map<number, string>();
    this.others.set(chain, held);
    return held;
  }

  /** The first bytes that are vouched for keep their place; others are set aside, and so is what continues others. */
  push(chain: string, first: number, lines: readonly ModelLine[]): Mark["exceptions"] {
    const held = this.heldOf(chain);
    const exceptions: { n: number; code: string }[] = [];
    lines.forEach(({ hash, previous }, at) => {
      const n = first + at;
      this.#previous.set(hash, previous);
      const behind = this.#previous.get(held.get(n + 1) ?? "");
      const isWrong =
        held.has(n) || (held.has(n - 1) && held.get(n - 1) !== previous) || (behind ?? hash) !== hash;
      if (held.get(n) === hash) return;
      if (!isWrong) {
        held.set(n, hash);
        return;
      }
      this.aside.add(`${chain} ${n} ${hash}`);
      exceptions.push({ n, code: "number-taken" });
    });
    return exceptions;
  }

  /** Sealed PINs are kept only beside a record that is held, and judged before the answer. */
  judge(enclosures: readonly string[]): void {
    for (const id of enclosures) {
      this.came.set(id, (this.came.get(id) ?? 0) + 1);
      const [chain = "", n] = id.split(":");
      if (this.heldOf(chain).has(Number(n)) && !this.isBusy) this.judged.add(id);
    }
  }

  mark(chain = FIRST_CHAIN, exceptions: Mark["exceptions"] = []): Mark {
    const held = this.heldOf(chain);
    let n = 0;
    while (held.has(n + 1)) n += 1;
    const behind = [...held.keys()].filter((one) => one > n).sort((left, right) => left - right);
    return {
      epoch: this.epoch,
      n,
      hash: held.get(n) ?? "",
      held: behind.map((one) => ({ first: one, last: one })),
      exceptions,
      safe: 0,
    };
  }

  /** True when the bytes are stored at their place or set aside. */
  has(chain: string, n: number, hash: string): boolean {
    return this.heldOf(chain).get(n) === hash || this.aside.has(`${chain} ${n} ${hash}`);
  }

  /** A copy to restore later, under a new epoch; or, told "unnoticed", under the old one. */
  backup(): (how?: "unnoticed") => void {
    const held = new Map(this.held);
    const others = [...this.others].map(([chain, lines]) => [chain, new Map(lines)] as const);
    const aside = new Set(this.aside);
    const log = [...this.log];
    return (how) => {
      this.held = new Map(held);
      this.others = new Map(others.map(([chain, lines]) => [chain, new Map(lines)]));
      this.aside = new Set(aside);
      this.log = [...log];
      if (how !== "unnoticed") this.epoch += "'";
    };
  }
}

/** The core with its store in memory, and requests that go over a way with faults. */
export class ModelTablet {
  now = 0;
  state: CoreState = beginning(NOTHING);
  chain = FIRST_CHAIN;
  own: ModelLine[] = [];
  /** Chains that were left behind. */
  former: { chain: string; own: ModelLine[]; isSendable: boolean }[] = [];
  /** Lines that only the way refuses. */
  poison = new Set<number>();
  /** The most lines that a way station lets through. */
  most = Infinity;
  pushes: { first: number; last: number }[] = [];
  asked: Effect[] = [];
  /** False while the file of copies takes nothing. */
  canKeep = true;
  /** What a new process would find in the file of copies. */
  kept: Copies = NOTHING;
  #waiting: Effect[] = [];
  #chance = 0.5;
  /** Sign-ons whose sealed PINs were forgotten. */
  forgotten: string[] = [];
  /** Sign-ons whose sealed PINs lie in the store, as a new process would find them. */
  #enclosed: { chain: string; n: number }[] = [];

  constructor(
    readonly server: ModelServer,
    /** What a clone's own lines begin with. */
    readonly name = "",
  ) {
    this.#start();
  }

  save(): void {
    const own = this.#line(this.own.length + 1, this.own.at(-1)?.hash ?? "");
    this.own.push(own);
    this.happens({ event: "saved", own });
  }

  /** Sign on with a sealed PIN. */
  signOn(): void {
    const own = this.#line(this.own.length + 1, this.own.at(-1)?.hash ?? "");
    this.own.push(own);
    this.#enclosed = [...this.#enclosed, { chain: this.chain, n: this.own.length }];
    this.happens({ event: "saved", own, isEnclosed: true });
  }

  /** Fetch the server's judgements. */
  hear(): void {
    this.happens({ event: "judged", records: [...this.server.judged] });
  }

  #line(n: number, previous: string): ModelLine {
    const chain = this.chain === FIRST_CHAIN ? "" : `${this.chain} `;
    return { hash: `${this.name}${chain}h${n}`, previous, bytes: RECORD_BYTES };
  }

  #start(): void {
    const { chain, own, former } = this;
    const chains = former.map((one) => ({ ...one, base: NOTHING_LEFT, own: [...one.own] }));
    this.happens({
      event: "started",
      chain,
      base: NOTHING_LEFT,
      own: [...own],
      former: chains,
      copies: this.kept,
      enclosed: this.#enclosed,
    });
  }

  /** A copy of the profile, started beside this one. */
  clone(name: string): ModelTablet {
    const copy = new ModelTablet(this.server, name);
    copy.chain = this.chain;
    copy.own = [...this.own];
    copy.former = this.former.map((one) => ({ ...one, own: [...one.own] }));
    copy.kept = this.kept;
    copy.restart();
    return copy;
  }

  /** Every line of its own with its place. */
  lines(): { chain: string; n: number; hash: string }[] {
    const chains = [...this.former, { chain: this.chain, own: this.own }];
    return chains.flatMap(({ chain, own }) => own.map(({ hash }, at) => ({ chain, n: at + 1, hash })));
  }

  /** Start again from what is in the store. */
  restart(): void {
    this.#waiting = [];
    this.state = beginning(NOTHING);
    this.#start();
  }

  /** Let the oldest request that waits be answered, as the way allows. */
  answer(way: Way, chance = 0.5): void {
    this.#chance = chance;
    const effect = this.#waiting.shift();
    if (effect !== undefined) this.#carryOut(effect, way);
  }

  /** Let what was sent be answered before anything that was asked before it. */
  answerSends(): void {
    const at = this.#waiting.findIndex(({ effect }) => effect === "push" || effect === "ask_mark");
    const [effect] = at < 0 ? [] : this.#waiting.splice(at, 1);
    if (effect !== undefined) this.#carryOut(effect, "open");
  }

  /** Let everything that waits be answered. */
  drain(): void {
    while (this.isWaiting) this.answer("open");
  }

  get isWaiting(): boolean {
    return this.#waiting.length > 0;
  }

  /** Let time go on to the next thing that is due. */
  pass(): void {
    const due = dueNext(this.state, this.now);
    this.now = Math.max(this.now + 1, Math.min(due, this.now + 120_000));
    this.happens({ event: "tick" });
  }

  /** Everything in order again, until nothing is left to do or the patience ends. */
  settle(patience = 3000): void {
    for (let round = 0; round < patience; round += 1) {
      if (this.isWaiting) this.answer("open");
      else if (this.isSettled) return;
      else this.pass();
    }
  }

  get isSettled(): boolean {
    return (
      this.state.sending.confirmed === this.own.length &&
      this.state.former.every((one) => !one.isSendable || one.confirmed === one.own.length) &&
      !this.state.isTurning &&
      (this.state.copies.chain ?? this.chain) === this.chain &&
      this.state.copies.epoch === this.server.epoch &&
      new Set(this.state.copies.lines).size === this.server.log.length &&
      this.state.copies.old.length === 0
    );
  }

  happens(event: Untimed): void {
    const timed = {
      ...event,
      now: this.now,
      chance: this.#chance,
    } as CoreEvent;
    const { state, effects } = step(this.state, timed);
    this.state = state;
    this.asked.push(...effects);
    for (const effect of effects) {
      if (effect.effect === "forget") {
        this.forgotten.push(...effect.records);
        this.#enclosed = this.#enclosed.filter((one) => !effect.records.includes(`${one.chain}:${one.n}`));
      }
      if (effect.effect === "keep" && !effect.isAwaited && this.canKeep) {
        this.kept = after(this.kept, effect.entry);
      }
    }
    const toAnswer = effects.filter((effect) => effect.effect !== "forget");
    this.#waiting.push(...toAnswer.filter((effect) => effect.effect !== "keep" || effect.isAwaited));
  }

  #carryOut(effect: Effect, way: Way): void {
    switch (effect.effect) {
      case "push":
      case "ask_mark":
        return this.#send(effect, effect.effect === "push" ? effect : undefined, way);
      case "forget":
        return undefined;
      case "turn_over":
        this.former = this.former.filter((one) => !effect.leaving.chains.includes(one.chain));
        return this.happens({ event: "turned_over", left: effect.leaving });
      case "open_chain":
        return this.#turn();
      case "pull":
        return this.#pull(
          effect.chain,
          effect.after,
          Object.keys(effect.carry),
          way === "cannot_write" ? "open" : way,
        );
      case "keep":
        return this.#keep(
          effect.entry,
          this.canKeep && (way === "open" || way === "twice" || way === "cannot_write"),
        );
      case "renew_session":
        if (way !== "open") return this.happens({ event: "not_renewed", why: "no_answer" });
        this.server.session = true;
        return this.happens({ event: "renewed" });
      case "fetch_file":
        return this.happens({ event: "file_failed", why: "no_answer" });
      case "list_batches":
        return this.happens({ event: "list_failed", why: "no_answer" });
    }
  }

  #turn(): void {
    this.former.push({ chain: this.chain, own: this.own, isSendable: true });
    const before = this.own.at(-1)?.hash ?? "";
    this.chain = `${this.name}c${this.former.length + 1}`;
    const own = this.#line(1, before);
    this.own = [own];
    this.happens({ event: "turned", chain: this.chain, own });
  }

  #send(
    { chain, enclosures }: { chain: string; enclosures: readonly string[] },
    stretch: { first: number; last: number } | undefined,
    way: Way,
  ): void {
    if (stretch !== undefined) this.pushes.push({ first: stretch.first, last: stretch.last });
    const isRefused = stretch !== undefined && this.#isRefused(stretch);
    if (way === "portal" || isRefused) return this.happens({ event: "send_failed", why: "not_ours" });
    if (way === "too_much" && stretch !== undefined)
      return this.happens({ event: "send_failed", why: "too_much" });
    if (way === "busy") return this.happens({ event: "send_failed", why: "busy" });
    if (way === "cannot_write" && stretch !== undefined)
      return this.happens({ event: "send_failed", why: "cannot_write" });
    if (way === "lost_request") return this.happens({ event: "send_failed", why: "no_answer" });
    let exceptions: Mark["exceptions"] = [];
    for (let time = 0; time < (way === "twice" ? 2 : 1); time += 1) {
      if (stretch === undefined) break;
      const own = chain === this.chain ? this.own : this.former.find((one) => one.chain === chain)?.own;
      exceptions = this.server.push(chain, stretch.first, (own ?? []).slice(stretch.first - 1, stretch.last));
    }
    this.server.judge(enclosures);
    if (way === "lost_answer") return this.happens({ event: "send_failed", why: "no_answer" });
    const lost = this.state.former.flatMap((one) => {
      const last = lastAnswered(one);
      return last === undefined || this.server.has(one.chain, last.n, last.hash) ? [] : [one.chain];
    });
    this.happens({ event: "marked", mark: this.server.mark(chain, exceptions), lost });
  }

  #keep(entry: Entry, isSafe: boolean): void {
    if (isSafe) this.kept = after(this.kept, entry);
    this.happens({ event: "kept", isSafe });
  }

  #isRefused({ first, last }: { first: number; last: number }): boolean {
    if (last - first + 1 > this.most) return true;
    return [...this.poison].some((n) => n >= first && n <= last);
  }

  /** Pages of two lines; a cursor is the number of lines and the epoch they belong to. */
  #pull(chain: string, after: string | undefined, pairs: readonly string[], way: Way): void {
    if (way === "portal") return this.happens({ event: "pull_failed", why: "not_ours" });
    if (way !== "open" && way !== "twice") return this.happens({ event: "pull_failed", why: "no_answer" });
    if (!this.server.session) return this.happens({ event: "pull_failed", why: "session" });
    const [from = "0", epoch = this.server.epoch] = after?.split(".") ?? [];
    if (epoch !== this.server.epoch) return this.happens({ event: "cursor_void" });
    const end = Math.min(this.server.log.length, Number(from) + 2);
    this.happens({
      event: "pulled",
      page: {
        chain,
        epoch,
        cursor: `${end}.${epoch}`,
        more: end < this.server.log.length,
        pairs,
        lines: this.server.log.slice(Number(from), end),
      },
      newest: Math.max(0, ...this.server.heldOf(chain).keys()),
    });
  }
}

/** An event before it has its time and its chance. */
type Untimed = CoreEvent extends infer E ? (E extends CoreEvent ? Omit<E, "now" | "chance"> : never) : never;

/** A tablet before its server, with some records of its own. */
export function tabletWith(records: number): ModelTablet {
  const tablet = new ModelTablet(new ModelServer());
  for (let n = 0; n < records; n += 1) tablet.save();
  return tablet;
}
