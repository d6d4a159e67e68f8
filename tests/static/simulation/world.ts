// SPDX-License-Identifier: Apache-2.0
// One seeded life of a works with a few tablets: people act, requests go their way, and everything that can go wrong
// does. What must always hold is asked after every step; what must hold at the end, when the faults have stopped.
import { enrolDevice } from "../../../static/src/api/requests.js";
import { partDefinitions } from "../../../static/src/definitions/published.js";
import { foldBench } from "../../../static/src/folds/bench.js";
import { MOST_PAIRS } from "../../../static/src/folds/copies.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { isCarried, pairOf } from "../../../static/src/sync/held_records.js";
import type { Identity } from "../../../static/src/sync/identity.js";
import { renewSession } from "../../../static/src/sync/enrolment.js";
import { makeKeys, publicText } from "../../../static/src/sync/signing.js";
import { Chance } from "../records/chance.js";
import { act, layDown, LOOKS, signOn } from "./acts.js";
import { FEW, Life, START, type Device, type Said, type Times } from "./device.js";
import { Disk } from "./disk.js";
import { OddDevice } from "./odd_device.js";
import { OF_PUSHES, ON_THE_WAY, type Child, type OnTheWay } from "./way.js";
import { Works } from "./works.js";

/** What can happen to a tablet or to the server between two requests. */
export const ELSEWHERE = [
  "tablet_killed",
  "tablet_killed_within_a_call",
  "tablet_killed_in_turn_over",
  "tablet_without_room",
  "flush_fails",
  "bit_flipped",
  "site_data_cleared",
  "key_lost",
  "profile_cloned",
  "image_put_back",
  "tablet_away",
  "session_lost",
  "clock_back_a_day",
  "clock_ahead_400_days",
  "clock_stepped",
  "server_killed",
  "server_copied",
  "server_snapshot",
  "server_put_back",
  "poisoned_lines",
  "tablet_revoked",
] as const;
export type Elsewhere = (typeof ELSEWHERE)[number];
export type Fault = OnTheWay | Elsewhere;
export const FAULTS: readonly Fault[] = [...ON_THE_WAY, ...ELSEWHERE];

const DAY_MS = 86_400_000;

/** What makes a world; a smaller one of the same seed is a smaller world, not a part of it. */
export interface Plan {
  readonly seed: number;
  readonly tablets: number;
  readonly steps: number;
  readonly faults: readonly Fault[];
  /** How many copied profiles there may be at once; 1 where it is left out. */
  readonly clones?: number;
}

export interface Outcome {
  readonly pushes: number;
  readonly records: number;
  readonly stored: number;
  readonly restarts: number;
  readonly struck: Readonly<Record<string, number>>;
  readonly decided: Readonly<Record<string, number>>;
  readonly wrong: readonly string[];
}

/** A device and the app that runs on it. */
interface Tablet {
  readonly device: Device;
  life: Life;
  /** Steps for which nobody touches it and no request of its leaves. */
  away: number;
  image: Disk | undefined;
  isCleared: boolean;
}

export class World {
  readonly #chance: Chance;
  readonly #times: Times = { now: 0 };
  readonly #tablets: Tablet[] = [];
  /** What was shown as stored, by id and hash, and not lost by what no store can stand. */
  readonly #owed = new Set<string>();
  /** What the server alone holds, because a disk lost it: one that is put back to before it has it no more. */
  readonly #frail = new Set<string>();
  /** All that was ever shown as stored. */
  readonly #known = new Set<string>();
  #wasPutBack = false;
  /** A device that writes lines which are no records; undefined in a world without. */
  #odd: OddDevice | undefined;
  readonly #struck: Record<string, number> = {};
  #decided: Readonly<Record<string, number>> = {};
  readonly #secrets: string[] = [];
  readonly #wrong: string[] = [];
  #restarts = 0;
  #stored = 0;

  private constructor(
    private readonly plan: Plan,
    private readonly works: Works,
    chance: Chance,
  ) {
    this.#chance = chance;
  }

  static async run(plan: Plan, child: Child): Promise<Outcome> {
    const chance = new Chance(plan.seed);
    const works = await Works.open(child, chance);
    const world = new World(plan, works, chance);
    const restore = world.#takeTheBrowser();
    try {
      await world.#live();
    } catch (problem) {
      world.#wrong.push(problem instanceof Error ? (problem.stack ?? problem.message) : String(problem));
    } finally {
      restore();
    }
    const { pushes, records, failures } = works.way;
    const wrong = [...new Set([...world.#wrong, ...failures, ...works.wrong])];
    return {
      pushes,
      records,
      stored: world.#stored,
      restarts: world.#restarts,
      struck: world.#struck,
      decided: world.#decided,
      wrong,
    };
  }

  /** The app's requests and its steady clock are the world's. */
  #takeTheBrowser(): () => void {
    const { fetch } = globalThis;
    const timeout = AbortSignal.timeout.bind(AbortSignal);
    const steady = performance.now.bind(performance);
    globalThis.fetch = this.works.way.fetch;
    AbortSignal.timeout = () => new AbortController().signal;
    performance.now = () => this.#times.now;
    return () => {
      globalThis.fetch = fetch;
      AbortSignal.timeout = timeout;
      performance.now = steady;
    };
  }

  async #live(): Promise<void> {
    this.#pass(0);
    for (let number = 1; number <= this.plan.tablets; number += 1) await this.#enrol(`bench ${number}`);
    if (this.#has("poisoned_lines")) {
      this.works.way.asks(new Map());
      this.#odd = new OddDevice(await this.#identity("odd"), this.#chance, () => this.works.way.now);
    }
    await this.works.backup();
    for (let step = 0; step < this.plan.steps && this.#wrong.length === 0; step += 1) {
      this.#pass(this.#chance.whole(1, 20) === 1 ? 70_000 : this.#chance.one(5, 40, 400, 1_000, 2_000));
      if (this.#chance.whole(1, 25) === 1) await this.#endShift();
      if (this.#chance.whole(1, 4) === 1) await this.#strike();
      await this.#step();
      if (this.works.way.wasAsked()) await this.works.refresh();
      this.#check();
    }
    if (this.#wrong.length > 0) return;
    await this.#settle();
    await this.#compare();
  }

  #pass(ms: number): void {
    this.#times.now += Math.ceil(ms);
    this.works.way.now = START + this.#times.now;
  }

  async #enrol(name: string, before?: Partial<Device>): Promise<Tablet> {
    const cookies = new Map<string, string>();
    this.works.way.asks(cookies);
    const identity = await this.#identity(name);
    await renewSession(identity);
    const made: Device = {
      name,
      disk: new Disk(),
      clockWrong: 0,
      wasWiped: false,
      ...before,
      identity,
      cookies,
    };
    const tablet = { device: made, away: 0, image: undefined, isCleared: false } as unknown as Tablet;
    await this.#begin(tablet);
    this.#tablets.push(tablet);
    return tablet;
  }

  async #identity(name: string): Promise<Identity> {
    const keys = await makeKeys();
    const answer = await enrolDevice({ by: "demo", name }, await publicText(keys));
    if (answer.sort !== "ours") throw new Error(`nobody enrols ${name}: ${JSON.stringify(answer)}`);
    const { device, letters, site } = answer.value;
    return { keys, device, letters, site };
  }

  async #begin(tablet: Tablet): Promise<void> {
    const made = (said: Said): void => this.#hear(tablet, said);
    tablet.life = await Life.start(tablet.device, this.#chance, this.#times, made, (cookies) => {
      this.works.way.asks(cookies);
    });
    tablet.isCleared = false;
  }

  #hear(by: Tablet, { id, hash, isStored }: Said): void {
    if (isStored && by.isCleared) this.#wrong.push(`${id} was shown as stored in files that are gone`);
    const key = keyOf(id, hash);
    if (!isStored || this.#known.has(key)) return;
    this.#stored += 1;
    this.#known.add(key);
    this.#owed.add(key);
  }

  async #step(): Promise<void> {
    const tablet = this.#tablets[this.#chance.whole(0, this.#tablets.length - 1)];
    if (tablet === undefined) return;
    if (tablet.away > 0) {
      tablet.away -= 1;
      return;
    }
    if (this.#chance.whole(1, 20) === 1) tablet.image = tablet.device.disk.afterKill();
    const chosen = this.#chance.whole(1, 10);
    if (chosen <= 4) {
      for (let left = this.#chance.one(1, 1, 2); left > 0; left -= 1)
        await act(tablet.life, this.#chance, this.works.page);
    } else if (chosen === 5) await tablet.life.settle();
    else await tablet.life.turn();
    // A process that ended within a call was there no longer when its record was to be shown.
    if (tablet.device.disk.isDead) await this.#restart(tablet);
  }

  /**
   * Work is laid down, the next shift signs on, and all is sent; where the server is then copied, the tablet hears of
   * it, and records leave its journal. Without a copy none may: a server that is put back has to be offered them.
   */
  async #endShift(): Promise<void> {
    const filled = this.#tablets.filter(({ life }) => life.own.chain.length > FEW);
    const tablet = filled[this.#chance.whole(0, Math.max(0, filled.length - 1))];
    if (tablet === undefined) return;
    const { life, device } = tablet;
    const { disk } = device;
    const kept = life.own.base.n;
    await layDown(life);
    await signOn(life, this.#chance);
    await signOn(life, this.#chance);
    await life.comeIntoReach();
    if (this.#has("server_copied_meanwhile") && this.#chance.flip())
      await this.#strikeRequest("server_copied_meanwhile", tablet);
    await this.#until([tablet], () => life.isSent || disk.isDead, SHIFT_END_ROUNDS);
    if (this.#chance.flip()) await this.works.backup();
    if (this.#has("tablet_killed_in_turn_over") && this.#chance.flip())
      disk.dieBehindEmptying(this.#chance.whole(0, 5));
    await signOn(life, this.#chance); // its mark says what is copied
    await this.#until([tablet], () => life.own.base.n > kept || disk.isDead, SHIFT_END_ROUNDS);
    if (disk.isDead) await this.#restart(tablet);
    // Now what left by mistake is nowhere but in the log.
    if (this.#has("server_put_back") && this.#chance.whole(1, 8) === 1)
      await this.#strikeElsewhere("server_put_back", tablet);
  }

  /** One fault, of those that this world has. */
  async #strike(): Promise<void> {
    // What was left behind is sent once: it meets what can only strike where records are sent.
    const sendsLeft = this.#tablets.find(({ life }) => life.isSending(true));
    const faults = this.plan.faults.filter(
      (one) => sendsLeft === undefined || OF_PUSHES.some((other) => other === one),
    );
    const fault = faults[this.#chance.whole(0, Math.max(0, faults.length - 1))];
    const tablet = sendsLeft ?? this.#tablets[this.#chance.whole(0, this.#tablets.length - 1)];
    if (fault === undefined || tablet === undefined) return;
    if (ON_THE_WAY.some((one) => one === fault)) {
      await this.#strikeRequest(fault as OnTheWay, tablet);
    } else await this.#strikeElsewhere(fault as Elsewhere, tablet);
  }

  #has(fault: Fault): boolean {
    return this.plan.faults.includes(fault);
  }

  #count(fault: Fault): void {
    this.#struck[fault] = (this.#struck[fault] ?? 0) + 1;
  }

  /** A fault of the way needs a request to meet. */
  async #strikeRequest(fault: OnTheWay, { life }: Tablet): Promise<void> {
    const isOfPush = OF_PUSHES.includes(fault);
    const isMet = (): boolean => (isOfPush ? life.isSending() : life.waiting.length > 0);
    for (let tries = 0; tries < 20 && !isMet(); tries += 1) {
      if (tries % 5 === 0) await act(life, this.#chance, this.works.page);
      this.#pass(Math.max(1, Math.min(70_000, life.dueAt - this.#times.now)));
      await life.turn();
    }
    if (!isMet()) return;
    this.works.way.fate = fault;
    await life.turn(isOfPush);
    if (this.works.way.takeFate() === "open") this.#count(fault);
  }

  async #strikeElsewhere(fault: Elsewhere, tablet: Tablet): Promise<void> {
    if (await this.#couldStrike(fault, tablet)) this.#count(fault);
  }

  /** True when it did. */
  async #couldStrike(fault: Elsewhere, tablet: Tablet): Promise<boolean> {
    const { device } = tablet;
    switch (fault) {
      case "tablet_killed":
        await this.#restart(tablet);
        return true;
      case "tablet_killed_within_a_call":
        device.disk.dieAfter(this.#chance.whole(0, MOST_CALLS));
        return false; // it is counted when it is dead
      case "tablet_killed_in_turn_over":
        device.disk.dieBehindEmptying(this.#chance.whole(0, 5));
        return false;
      case "tablet_without_room":
        device.disk.room = this.#chance.whole(0, 600);
        await this.#actUnstored(tablet.life);
        device.disk.room = Infinity;
        return tablet.life.unstored > 0;
      case "flush_fails":
        device.disk.flushFails = true;
        await this.#actUnstored(tablet.life);
        device.disk.flushFails = false;
        return tablet.life.unstored > 0;
      case "tablet_away":
        tablet.away = this.#chance.whole(5, 60);
        return true;
      case "session_lost":
        device.cookies.clear();
        return true;
      case "clock_back_a_day":
        device.clockWrong -= DAY_MS;
        return true;
      case "clock_ahead_400_days":
        device.clockWrong += 400 * DAY_MS;
        return true;
      case "clock_stepped":
        device.clockWrong += this.#chance.whole(-3_600_000, 3_600_000);
        return true;
      case "server_killed":
        await this.works.kill();
        return true;
      case "server_copied":
        await this.works.backup();
        return true;
      case "server_snapshot":
        await this.works.snapshot();
        return true;
      case "server_put_back":
        this.#wasPutBack = true;
        return this.works.putBack();
      case "poisoned_lines":
        this.#odd?.write();
        await this.#sendPoison();
        return true;
      default:
        return this.#strikeProfile(fault, tablet);
    }
  }

  /** Do things until one of them cannot be stored. */
  async #actUnstored(life: Life): Promise<void> {
    for (let tries = 0; tries < 5 && life.unstored === 0; tries += 1)
      await act(life, this.#chance, this.works.page);
  }

  async #sendPoison(): Promise<void> {
    this.works.way.asks(new Map());
    this.#wrong.push(...((await this.#odd?.send()) ?? []));
  }

  /** What happens to the files of a tablet. */
  async #strikeProfile(fault: Elsewhere, tablet: Tablet): Promise<boolean> {
    const { device } = tablet;
    const before = device.disk.journal();
    switch (fault) {
      case "bit_flipped":
        this.#leave(tablet);
        device.disk = device.disk.withFlippedBit(this.#chance);
        await this.#begin(tablet);
        if (this.#miss(before) > 1) this.#wrong.push("one flipped bit took more than one record");
        if (tablet.life.ended !== undefined) await this.#replace(tablet, before);
        return true;
      case "site_data_cleared":
        await this.#clear(tablet);
        await this.#replace(tablet, before);
        return true;
      case "key_lost": {
        this.#retire(tablet);
        const disk = device.disk.afterKill(this.#chance);
        await this.#enrol(device.name, { disk, clockWrong: device.clockWrong });
        await this.works.backup();
        return true;
      }
      case "profile_cloned": {
        if (this.#tablets.length >= this.plan.tablets + (this.plan.clones ?? 1)) return false;
        const twin = { ...device, disk: device.disk.afterKill(), cookies: new Map(device.cookies) };
        const clone = { device: twin, away: 0, image: undefined, isCleared: false } as unknown as Tablet;
        await this.#begin(clone);
        this.#tablets.push(clone);
        return true;
      }
      case "tablet_revoked": {
        // A clone is the same device: it would be revoked with it.
        const same = this.#tablets.filter((one) => one.device.identity.device === device.identity.device);
        if (this.#tablets.length < 2 || same.length > 1) return false;
        await this.#revoke(tablet);
        await this.#replace(tablet, before);
        return true;
      }
      case "image_put_back": {
        const { image } = tablet;
        if (image === undefined) return false;
        this.#leave(tablet);
        device.disk = image.afterKill();
        await this.#begin(tablet);
        this.#miss(before);
        return true;
      }
      default:
        return false;
    }
  }

  /** Revoked in the middle of its work: what it writes from then on is kept nowhere but aside, and it reads nothing. */
  async #revoke(tablet: Tablet): Promise<void> {
    const { device, life } = tablet;
    const known = new Set(life.own.all.map(({ id }) => id));
    // A page that was answered before may still be on its way to the file.
    const { copies, keeping } = life.core;
    const cursors = [copies.cursor, keeping?.entry === "page" ? keeping.page.cursor : undefined];
    await this.works.revoke(device.identity.device);
    await act(tablet.life, this.#chance, this.works.page);
    for (let round = 0; round < REVOKED_ROUNDS; round += 1) {
      this.#pass(Math.max(1, Math.min(70_000, life.dueAt - this.#times.now)));
      await life.turn();
    }
    await this.works.refresh();
    for (const { id, hash } of life.own.all) {
      if (!known.has(id) && this.works.stands(id, hash))
        this.#wrong.push(`${id} was written by a revoked tablet and is in the log`);
    }
    const now = life.core.copies.cursor;
    if (now !== undefined && !cursors.includes(now))
      this.#wrong.push(`${device.name} was revoked and still reads`);
  }

  /** Somebody clears the site's data under the open app: the next tap says so, and what is in memory is still sent. */
  async #clear(tablet: Tablet): Promise<void> {
    await this.#letLive(tablet);
    tablet.device.disk.unlink();
    tablet.isCleared = true;
    await act(tablet.life, this.#chance, this.works.page);
    this.works.way.poison.clear();
    await tablet.life.comeIntoReach();
    // Without its files it keeps nothing that it fetches: it would never be at rest.
    await this.#until([tablet], (life) => life.isSent);
    await this.works.refresh();
    for (const { id, hash } of tablet.life.own.all) {
      if (this.works.has(id, hash) || this.#isUnsendable(id)) continue;
      // A server that was put back without a word took it, and nobody has told this tablet of another epoch yet.
      if (this.works.isGone(id, hash)) continue;
      this.#wrong.push(`${id} was in the memory of a cleared tablet: ${whatIsOpen(tablet.life)}`);
    }
  }

  /** What a disk lost by what no store can stand is owed no more; returns how many that are. */
  #miss(before: ReadonlyMap<string, string>): number {
    let missed = 0;
    for (const [id, hash] of before) {
      const key = keyOf(id, hash);
      if (this.#isInJournal(id, hash)) continue;
      // The server has it, and nobody would send it again to one that lost it.
      if (this.works.has(id, hash)) this.#frail.add(key);
      else if (this.#owed.delete(key)) missed += 1;
    }
    return missed;
  }

  #isInJournal(id: string, hash: string): boolean {
    return this.#tablets.some(({ device }) => device.disk.journal().get(id) === hash);
  }

  #retire(tablet: Tablet): void {
    this.#leave(tablet);
    this.#tablets.splice(this.#tablets.indexOf(tablet), 1);
  }

  /** A new tablet in the place of one that can record no more; what the old one holds can be exported from it. */
  async #replace(tablet: Tablet, before: ReadonlyMap<string, string>): Promise<void> {
    this.#retire(tablet);
    for (const { id, hash } of tablet.life.own.all) {
      this.#owed.delete(keyOf(id, hash));
    }
    await this.#enrol(tablet.device.name, {});
    this.#miss(before);
    await this.works.backup();
  }

  /** One life of the app ends. */
  #leave({ device, life }: Tablet): void {
    this.#secrets.push(...life.sealed);
    if (life.busiest > MOST_REQUESTS)
      this.#wrong.push(`${device.name} asked ${life.busiest} times within ten seconds`);
  }

  async #restart(tablet: Tablet): Promise<void> {
    this.#restarts += 1;
    const { death } = tablet.device.disk;
    if (death !== undefined) this.#count(death);
    this.#leave(tablet);
    tablet.device.disk = tablet.device.disk.afterKill(this.#chance);
    await this.#begin(tablet);
    if (tablet.life.ended !== undefined) this.#wrong.push("a kill alone broke a journal");
  }

  /** The process lives, and no death waits for a call of its disk. */
  async #letLive(tablet: Tablet): Promise<void> {
    if (tablet.device.disk.isDead) await this.#restart(tablet);
    tablet.device.disk.dieAfter(Infinity);
  }

  /** What must hold after every step. */
  #check(): void {
    for (const key of this.#owed.keys()) {
      const [id = "", hash = ""] = key.split(" ");
      if (this.works.has(id, hash) || this.#isInJournal(id, hash)) continue;
      if (this.#frail.has(key)) this.#owed.delete(key);
      else this.#wrong.push(`${id} was shown as stored and is nowhere`);
    }
    for (const { life } of this.#tablets) {
      const { confirmed, chain } = life.core.sending;
      const said = life.own.chain[confirmed - life.own.base.n - 1];
      if (this.#wasPutBack || said === undefined || life.ended !== undefined) continue;
      if (!this.works.has(said.id, said.hash))
        this.#wrong.push(`${chain}:${confirmed} is said to be confirmed and is not held`);
    }
  }

  #untilSettled(tablets: readonly Tablet[]): Promise<void> {
    return this.#until(tablets, (life) => life.isSettled);
  }

  async #until(
    tablets: readonly Tablet[],
    isReached: (life: Life) => boolean,
    rounds = MOST_ROUNDS,
  ): Promise<void> {
    for (let round = 0; round < rounds; round += 1) {
      const late = tablets.filter(({ life }) => !isReached(life));
      if (late.length === 0) return;
      const due = Math.min(
        ...late.map(({ life }) => (life.waiting.length > 0 ? this.#times.now : life.dueAt)),
      );
      this.#pass(Math.max(1, Math.min(70_000, due - this.#times.now)));
      for (const { life } of late) await life.turn();
    }
  }

  /** The faults stop; everything that is on a tablet has to arrive, and everything that is carried to come. */
  async #settle(): Promise<void> {
    this.works.way.poison.clear();
    for (const tablet of this.#tablets) {
      await this.#letLive(tablet);
      await tablet.life.settle();
      await tablet.life.comeIntoReach();
    }
    const signed = this.#tablets.flatMap(({ life }) => life.signed);
    await this.#untilSettled(this.#tablets);
    // Somebody heard last that the server was put back, or that another goes on in his chain: now all do.
    for (const { life } of this.#tablets) await life.comeIntoReach();
    await this.#untilSettled(this.#tablets);
    await this.#sendPoison();
    await this.works.refresh();
    this.#check();
    for (const { id, hash } of signed)
      if (!this.works.has(id, hash))
        this.#wrong.push(`${id} of the server was held by a tablet and is nowhere`);
    for (const { id, hash } of this.#odd?.all ?? [])
      if (!this.works.has(id, hash)) this.#wrong.push(`${id} of a device with poisoned lines is not kept`);
    for (const { device, life } of this.#tablets) {
      if (!life.isSettled) this.#wrong.push(`${device.name} has not come to rest: ${whatIsOpen(life)}`);
    }
    for (const key of this.#owed.keys()) {
      const [id = "", hash = ""] = key.split(" ");
      if (!this.works.has(id, hash) && !this.#isUnsendable(id))
        this.#wrong.push(`${id} never came to the server`);
    }
  }

  /** What another device key signed waits for an administrator. */
  #isUnsendable(id: string): boolean {
    const [chain] = id.split(":");
    return this.#tablets.some(({ life }) =>
      life.core.former.some((one) => one.chain === chain && !one.isSendable),
    );
  }

  /** Tablets and server hold the same of what is carried, and fold it to the same. */
  async #compare(): Promise<void> {
    for (const tablet of this.#tablets) this.#leave(tablet);
    const { wrong, folded, decided } = await this.works.judge(this.#secrets);
    this.#decided = decided;
    this.#wrong.push(...wrong);
    const { life: observer } = await this.#enrol("observer");
    // Some had come to rest before the last of the others' records arrived.
    for (const { life } of this.#tablets) await life.comeIntoReach();
    await this.#untilSettled(this.#tablets);
    const batches = Object.entries(folded);
    const atOnce = Math.floor(MOST_PAIRS / LOOKS.length); // a tablet carries no more
    for (let first = 0; first < batches.length; first += atOnce) {
      const carried = batches.slice(first, first + atOnce);
      for (const [batch] of carried) for (const look of LOOKS) await observer.takeUp(batch, look);
      await this.#untilSettled(this.#tablets);
      if (!observer.isSettled) this.#wrong.push(`the observer has not come to rest: ${whatIsOpen(observer)}`);
      await this.works.refresh();
      const shown = observer.shown();
      this.#missCarried(shown.filter(({ chain }) => chain !== observer.own.name));
      const definitions = partDefinitions(shown, observer.core.copies.files);
      for (const [batch, expected] of carried) {
        const ofBatch = shown.filter((one) => one.batch === batch || one.id === batch);
        const other = difference(foldBench(ofBatch, definitions, observer.authors), expected, "");
        if (other !== undefined)
          this.#wrong.push(`tablet and server fold ${batch} to other states: ${other}`);
        this.#compareCarried(batch, definitions, expected);
      }
    }
    const standing = new Map(observer.shown().map((record) => [record.id, record.line]));
    for (const { device, life } of this.#tablets) {
      for (const record of life.shown()) {
        if (!this.#isForked(record.id) && standing.has(record.id) && standing.get(record.id) !== record.line)
          this.#wrong.push(`${device.name} shows other bytes of ${record.id}`);
      }
    }
  }

  /** Whatever belongs to what a tablet carries, it shows, however it was told of it. */
  #missCarried(all: readonly ReadRecord[]): void {
    for (const { device, life } of this.#tablets) {
      const shown = new Set(life.shown().map(({ id }) => id));
      for (const record of all) {
        if (this.#isForked(record.id)) continue;
        if (!shown.has(record.id) && isCarried(record, life.core.copies.pairs))
          this.#wrong.push(`${device.name} carries what ${record.id} belongs to, and does not show it`);
      }
    }
  }

  /** Two tablets of one profile wrote it, or another key: it waits for somebody, and its tablet shows it meanwhile. */
  #isForked(id: string): boolean {
    return this.works.hashesOf(id) > 1 || this.#isUnsendable(id);
  }

  /** A tablet that carries both looks of a batch, and was told of it piece by piece, folds it to the same. */
  #compareCarried(batch: string, definitions: ReturnType<typeof partDefinitions>, expected: unknown): void {
    for (const { device, life } of this.#tablets) {
      if (!LOOKS.every((look) => life.core.copies.pairs[pairOf(batch, look)]?.whole === true)) continue;
      const shown = life.shown();
      // What was set aside waits for a lead, and its tablet shows it, in the place of what stands under its number.
      if (!shown.every(({ id, hash }) => this.works.stands(id, hash))) continue;
      const ofBatch = shown.filter((one) => one.batch === batch || one.id === batch);
      const other = difference(foldBench(ofBatch, definitions, life.authors), expected, "");
      if (other !== undefined) this.#wrong.push(`${device.name} folds ${batch} to another state: ${other}`);
    }
  }
}

const MOST_ROUNDS = 600;
const REVOKED_ROUNDS = 40;
const SHIFT_END_ROUNDS = 25;
/** Three times what was ever seen of a tablet that rests between its tries. */
const MOST_REQUESTS = 100;
/** So many calls of its disk a process may still make that is to end within one. */
const MOST_CALLS = 12;

function keyOf(id: string, hash: string): string {
  return `${id} ${hash}`;
}

function whatIsOpen({ core, own, waiting }: Life): string {
  const { sending, former, copies, photos, session } = core;
  return JSON.stringify({
    sending: [sending.chain, sending.confirmed, own.base.n + own.chain.length, sending.halted],
    former: former.map((one) => [
      one.chain,
      one.confirmed,
      one.base.n + one.own.length,
      one.isSendable,
      one.exceptions,
    ]),
    pairs: copies.pairs,
    old: copies.old.length,
    photos: photos.map((one) => one.state),
    waiting: waiting.map((one) => one.effect),
    session,
    isTurning: core.isTurning,
  });
}

/** Where two states differ first, whatever the order of their members; undefined where they do not. */
function difference(found: unknown, expected: unknown, at: string): string | undefined {
  const [left, right] = [found, expected].map((one) =>
    typeof one === "object" && one !== null ? (one as Readonly<Record<string, unknown>>) : undefined,
  );
  if (left === undefined || right === undefined) {
    return found === expected ? undefined : `${at}: ${JSON.stringify(found)}, ${JSON.stringify(expected)}`;
  }
  for (const name of new Set([...Object.keys(left), ...Object.keys(right)])) {
    const other = difference(left[name], right[name], `${at}/${name}`);
    if (other !== undefined) return other;
  }
  return undefined;
}
