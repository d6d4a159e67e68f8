// SPDX-License-Identifier: Apache-2.0
// The tablets of one world, the time they live in, and what they have shown as stored.
import { enrolDevice } from "../../../static/src/api/requests.js";
import type { Identity } from "../../../static/src/sync/identity.js";
import { renewSession } from "../../../static/src/sync/enrolment.js";
import { makeKeys, publicText } from "../../../static/src/sync/signing.js";
import type { Chance } from "../records/chance.js";
import { Life, START, type Device, type Said, type Times } from "./device.js";
import { Disk } from "./disk.js";
import { OddDevice } from "./odd_device.js";
import type { Works } from "./works.js";

/** A device and the app that runs on it. */
export interface Tablet {
  readonly device: Device;
  life: Life;
  /** Steps for which nobody touches it and no request of its leaves. */
  away: number;
  image: Disk | undefined;
  isCleared: boolean;
}

export class Tablets {
  readonly all: Tablet[] = [];
  readonly times: Times = { now: 0 };
  /** A device that writes lines which are no records; undefined in a world without. */
  odd: OddDevice | undefined;
  /** What was shown as stored, by id and hash, and not lost by what no store can stand. */
  readonly owed = new Set<string>();
  /** What the server alone holds, because a disk lost it: one that is put back to before it has it no more. */
  readonly frail = new Set<string>();
  /** All that was ever shown as stored. */
  readonly #known = new Set<string>();
  readonly secrets: string[] = [];
  /** How often each fault struck. */
  readonly struck: Record<string, number> = {};
  readonly wrong: string[] = [];
  restarts = 0;
  stored = 0;

  constructor(
    private readonly works: Works,
    private readonly chance: Chance,
  ) {}

  /** Any of them. */
  any(): Tablet | undefined {
    return this.all[this.chance.whole(0, this.all.length - 1)];
  }

  /** Enrol the device that writes what is no record. */
  async beginOdd(): Promise<void> {
    this.works.way.asks(new Map());
    this.odd = new OddDevice(await this.#identity("odd"), this.chance, () => this.works.way.now);
  }

  /** Let it send; what the server should have answered otherwise is wrong. */
  async sendPoison(): Promise<void> {
    this.works.way.asks(new Map());
    this.wrong.push(...((await this.odd?.send()) ?? []));
  }

  /** Time goes on, for all. */
  pass(ms: number): void {
    this.times.now += Math.ceil(ms);
    this.works.way.now = START + this.times.now;
  }

  /** Time goes on to what is due, by a step at least and by no more than a tablet sleeps. */
  passTo(due: number): void {
    this.pass(Math.max(1, Math.min(LONGEST_STEP_MS, due - this.times.now)));
  }

  /** Time goes on until each line that the way alone refused may be tried again: half an hour at most. */
  passAside(): void {
    const sendings = this.all.flatMap(({ life }) => [life.core.sending, ...life.core.former]);
    const tries = sendings.flatMap(({ aside }) => Object.values(aside).map(({ until }) => until));
    this.pass(Math.max(this.times.now, ...tries) - this.times.now);
  }

  /** A new device, and the app's first life on it; or another key for what a device has of `before`. */
  async enrol(name: string, before?: Partial<Device>): Promise<Tablet> {
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
    return this.add(made);
  }

  /** The app's first life on a device, and one tablet more. */
  async add(device: Device): Promise<Tablet> {
    const tablet = { device, away: 0, image: undefined, isCleared: false } as unknown as Tablet;
    await this.#begin(tablet);
    this.all.push(tablet);
    return tablet;
  }

  async #identity(name: string): Promise<Identity> {
    const keys = await makeKeys();
    const answer = await enrolDevice({ by: "demo", name }, await publicText(keys));
    if (answer.sort !== "ours") throw new Error(`nobody enrols ${name}: ${JSON.stringify(answer)}`);
    const { device, letters, site } = answer.value;
    return { keys, device, letters, site };
  }

  /** One life of the app ends, and another begins on this disk. */
  async beginOn(tablet: Tablet, disk: Disk): Promise<void> {
    this.leave(tablet);
    tablet.device.disk = disk;
    await this.#begin(tablet);
  }

  async #begin(tablet: Tablet): Promise<void> {
    const made = (said: Said): void => this.#hear(tablet, said);
    tablet.life = await Life.start(tablet.device, this.chance, this.times, made, (cookies) => {
      this.works.way.asks(cookies);
    });
    tablet.isCleared = false;
  }

  /** What is shown as stored, is owed from then on. */
  #hear(by: Tablet, { id, hash, isStored }: Said): void {
    if (isStored && by.isCleared) this.wrong.push(`${id} was shown as stored in files that are gone`);
    const key = keyOf(id, hash);
    if (!isStored || this.#known.has(key)) return;
    this.stored += 1;
    this.#known.add(key);
    this.owed.add(key);
  }

  /** The process is killed, or was, and the app begins again. */
  async restart(tablet: Tablet): Promise<void> {
    this.restarts += 1;
    const { death } = tablet.device.disk;
    if (death !== undefined) this.count(death);
    await this.beginOn(tablet, tablet.device.disk.afterKill(this.chance));
    if (tablet.life.ended !== undefined) this.wrong.push("a kill alone broke a journal");
  }

  /** One life of the app ends. */
  leave({ device, life }: Tablet): void {
    this.secrets.push(...life.sealed);
    if (life.busiest > MOST_REQUESTS)
      this.wrong.push(`${device.name} asked ${life.busiest} times within ten seconds`);
  }

  /** The process lives, and no death waits for a call of its disk. */
  async letLive(tablet: Tablet): Promise<void> {
    if (tablet.device.disk.isDead) await this.restart(tablet);
    tablet.device.disk.dieAfter(Infinity);
  }

  /** Nobody uses it any more. */
  retire(tablet: Tablet): void {
    this.leave(tablet);
    this.all.splice(this.all.indexOf(tablet), 1);
  }

  async until(
    tablets: readonly Tablet[],
    isReached: (life: Life) => boolean,
    rounds = MOST_ROUNDS,
  ): Promise<void> {
    for (let round = 0; round < rounds; round += 1) {
      const late = tablets.filter(({ life }) => !isReached(life));
      if (late.length === 0) return;
      const due = Math.min(
        ...late.map(({ life }) => (life.waiting.length > 0 ? this.times.now : life.dueAt)),
      );
      this.passTo(due);
      for (const { life } of late) await life.turn();
    }
  }

  /** Until nothing waits on any of them, or for so long that something must be wrong. */
  untilSettled(tablets: readonly Tablet[]): Promise<void> {
    return this.until(tablets, (life) => life.isSettled);
  }

  /** What a disk lost by what no store can stand is owed no more; returns how many that are. */
  miss(before: ReadonlyMap<string, string>): number {
    let missed = 0;
    for (const [id, hash] of before) {
      const key = keyOf(id, hash);
      if (this.isInJournal(id, hash)) continue;
      missed += 1;
      // The server has it, and nobody would send it again to one that lost it.
      if (this.works.has(id, hash)) this.frail.add(key);
      else this.owed.delete(key);
    }
    return missed;
  }

  /** True where a process that began now would find it. */
  isInJournal(id: string, hash: string): boolean {
    return this.all.some(({ device }) => device.disk.journal().get(id) === hash);
  }

  /** What another device key signed waits for an administrator. */
  isUnsendable(id: string): boolean {
    const [chain] = id.split(":");
    return this.all.some(({ life }) =>
      life.core.former.some((one) => one.chain === chain && !one.isSendable),
    );
  }

  /** A fault has struck. */
  count(fault: string): void {
    this.struck[fault] = (this.struck[fault] ?? 0) + 1;
  }
}

const MOST_ROUNDS = 600;
const LONGEST_STEP_MS = 70_000;
/** Three times what was ever seen of a tablet that rests between its tries. */
const MOST_REQUESTS = 100;

function keyOf(id: string, hash: string): string {
  return `${id} ${hash}`;
}

/** What a tablet that does not come to rest still has to do. */
export function whatIsOpen({ core, own, waiting }: Life): string {
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
