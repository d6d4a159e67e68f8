// SPDX-License-Identifier: Apache-2.0
// What goes wrong in a world: on the way of a request, at a tablet, at the server.
import type { Chance } from "../records/chance.js";
import { act } from "./acts.js";
import type { Life } from "./device.js";
import { whatIsOpen, type Tablet, type Tablets } from "./tablets.js";
import { LASTING, OF_PUSHES, ON_THE_WAY, type OnTheWay } from "./way.js";
import type { Works } from "./works.js";

/** What can happen to a tablet or to the server between two requests. */
export const ELSEWHERE = [
  "tablet_killed",
  "tablet_killed_within_a_call",
  "tablet_killed_in_turn_over",
  "tablet_without_room",
  "flush_fails",
  "bit_flipped",
  "copies_bit_flipped",
  "site_data_cleared",
  "key_lost",
  "profile_cloned",
  "image_put_back",
  "tablet_away",
  "outage",
  "disk_full",
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
const REVOKED_ROUNDS = 12;
/** Enough for what does not rest to have asked more often than anything that does, and for what rests in time. */
const ROUNDS_OF_A_WHILE = 150;
const A_WHILE_MS = 600_000;
const MOST_TRIES = 8;
/** So many calls of its disk a process may still make that is to end within one. */
const MOST_CALLS = 12;

/** What goes wrong, by chance, of what a plan has. */
export class Strikes {
  readonly #undrawn: Fault[] = [];

  constructor(
    private readonly tablets: Tablets,
    private readonly works: Works,
    private readonly chance: Chance,
    private readonly plan: {
      readonly faults: readonly Fault[];
      readonly tablets: number;
      readonly clones: number;
    },
  ) {}

  /** True where the world has it. */
  has(fault: Fault): boolean {
    return this.plan.faults.includes(fault);
  }

  /** What was left behind is sent once: it meets what can only strike where records are sent. */
  get sendsLeft(): Tablet | undefined {
    return this.tablets.all.find(({ life }) => life.isSending(true));
  }

  /** True where a tablet still has, of a chain that it left behind, what no copy holds that it was told of. */
  get wouldBeOfferedAnew(): boolean {
    return this.tablets.all.some(({ life }) =>
      life.core.former.some(
        ({ isSendable, confirmed, safe, base }) => isSendable && confirmed > Math.max(safe, base.n),
      ),
    );
  }

  /** The next fault: each that this world has comes as often as any other, in no order. */
  async any(): Promise<void> {
    const { sendsLeft } = this;
    const fault = this.#draw(sendsLeft === undefined ? this.plan.faults : this.#ofLeft());
    const tablet = sendsLeft ?? this.tablets.any();
    if (fault === undefined || tablet === undefined) return;
    if (ON_THE_WAY.some((one) => one === fault)) {
      await this.onRequest(fault as OnTheWay, tablet);
    } else await this.elsewhere(fault as Elsewhere, tablet);
  }

  /** Of what is sent once the server says most where its bytes are not what they were. */
  #ofLeft(): readonly Fault[] {
    return this.chance.flip() ? ["request_changed"] : OF_PUSHES;
  }

  /** One of these that was not drawn since all were. */
  #draw(wanted: readonly Fault[]): Fault | undefined {
    const isWanted = (one: Fault): boolean => wanted.includes(one);
    if (!this.#undrawn.some(isWanted)) this.#undrawn.push(...this.plan.faults.filter(isWanted));
    const left = this.#undrawn.filter(isWanted);
    const fault = left[this.chance.whole(0, Math.max(0, left.length - 1))];
    if (fault !== undefined) this.#undrawn.splice(this.#undrawn.indexOf(fault), 1);
    return fault;
  }

  /** A fault of the way needs a request to meet. */
  async onRequest(fault: OnTheWay, { life }: Tablet): Promise<void> {
    const isOfPush = OF_PUSHES.includes(fault);
    const isMet = (): boolean => (isOfPush ? life.isSending() : life.waiting.length > 0);
    for (let tries = 0; tries < 20 && !isMet(); tries += 1) {
      if (tries % 5 === 0) await act(life, this.chance, this.works.page);
      this.tablets.passTo(life.dueAt);
      await life.turn();
    }
    if (!isMet()) return;
    this.works.way.fate = fault;
    await life.turn(isOfPush);
    if (this.works.way.takeFate() === "open") this.tablets.count(fault);
  }

  /** A fault of a tablet or of the server. */
  async elsewhere(fault: Elsewhere, tablet: Tablet): Promise<void> {
    if (await this.#couldStrike(fault, tablet)) this.tablets.count(fault);
  }

  /** The server is put back, where this world has that. */
  async putBack(): Promise<void> {
    if (this.has("server_put_back") && (await this.#putBack())) this.tablets.count("server_put_back");
  }

  /** Now and then the copies of all tablets are hurt with it: none has a head that tells the server what it lost. */
  async #putBack(): Promise<boolean> {
    if (!(await this.works.putBack())) return false;
    if (this.has("copies_bit_flipped") && this.chance.whole(1, 8) === 1)
      for (const tablet of [...this.tablets.all]) await this.elsewhere("copies_bit_flipped", tablet);
    return true;
  }

  /** True when it did. */
  async #couldStrike(fault: Elsewhere, tablet: Tablet): Promise<boolean> {
    const { device } = tablet;
    switch (fault) {
      case "tablet_killed":
        await this.tablets.restart(tablet);
        return true;
      case "tablet_killed_within_a_call":
        device.disk.dieAfter(this.chance.whole(0, MOST_CALLS));
        return false; // it is counted when it is dead
      case "tablet_killed_in_turn_over":
        device.disk.dieBehindEmptying(this.chance.whole(0, 5));
        return false;
      case "tablet_without_room":
        device.disk.room = this.chance.whole(0, 600);
        await this.#actUnstored(tablet.life);
        device.disk.room = Infinity;
        return tablet.life.unstored > 0;
      case "flush_fails":
        device.disk.flushFails = true;
        await this.#actUnstored(tablet.life);
        device.disk.flushFails = false;
        return tablet.life.unstored > 0;
      case "tablet_away":
        tablet.away = this.chance.whole(5, 60);
        return true;
      case "outage":
        await this.#lastAWhile(tablet, LASTING[this.chance.whole(0, LASTING.length - 1)]);
        return true;
      case "disk_full":
        device.disk.isFull = true;
        await this.#lastAWhile(tablet);
        device.disk.isFull = false;
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
        device.clockWrong += this.chance.whole(-3_600_000, 3_600_000);
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
        return this.#putBack();
      case "poisoned_lines":
        this.tablets.odd?.write();
        await this.tablets.sendPoison();
        return true;
      default:
        return this.#ofProfile(fault, tablet);
    }
  }

  /** For some minutes whatever the tablet asks meets the same; how often it asks then is looked at when it ends. */
  async #lastAWhile({ life, device }: Tablet, fate: OnTheWay | "open" = "open"): Promise<void> {
    await act(life, this.chance, this.works.page);
    await life.comeIntoReach();
    const { times } = this.tablets;
    const end = times.now + A_WHILE_MS;
    for (let round = 0; round < ROUNDS_OF_A_WHILE && times.now < end && !device.disk.isDead; round += 1) {
      this.tablets.passTo(life.waiting.length > 0 ? times.now : life.dueAt);
      this.works.way.fate = fate;
      await life.turn();
      if (this.works.way.takeFate() === "open" && fate !== "open") this.tablets.count(fate);
    }
  }

  /** Do things until one of them cannot be stored. */
  async #actUnstored(life: Life): Promise<void> {
    for (let tries = 0; tries < MOST_TRIES && life.unstored === 0; tries += 1)
      await act(life, this.chance, this.works.page);
  }

  /** What happens to the files of a tablet. */
  async #ofProfile(fault: Elsewhere, tablet: Tablet): Promise<boolean> {
    const { device } = tablet;
    const before = device.disk.journal();
    switch (fault) {
      case "bit_flipped":
        await this.tablets.beginOn(tablet, device.disk.withFlippedBit(this.chance));
        if (this.tablets.miss(before) > 1)
          this.tablets.wrong.push("one flipped bit took more than one record");
        if (tablet.life.ended !== undefined) await this.#replace(tablet, before);
        return true;
      case "copies_bit_flipped": {
        const file = this.chance.one("fetched", "fetched", "fetched", "files");
        await this.tablets.beginOn(tablet, device.disk.withFlippedBit(this.chance, file));
        return true;
      }
      case "site_data_cleared":
        await this.#clear(tablet);
        await this.#replace(tablet, before);
        return true;
      case "key_lost": {
        this.tablets.retire(tablet);
        const disk = device.disk.afterKill(this.chance);
        await this.tablets.enrol(device.name, { disk, clockWrong: device.clockWrong });
        await this.works.backup();
        return true;
      }
      case "profile_cloned": {
        if (this.tablets.all.length >= this.plan.tablets + this.plan.clones) return false;
        const twin = { ...device, disk: device.disk.afterKill(), cookies: new Map(device.cookies) };
        await this.tablets.add(twin);
        return true;
      }
      case "tablet_revoked": {
        // A clone is the same device: it would be revoked with it.
        const same = this.tablets.all.filter((one) => one.device.identity.device === device.identity.device);
        if (this.tablets.all.length < 2 || same.length > 1) return false;
        await this.#revoke(tablet);
        await this.#replace(tablet, before);
        return true;
      }
      case "image_put_back": {
        const { image } = tablet;
        if (image === undefined) return false;
        await this.tablets.beginOn(tablet, image.afterKill());
        this.tablets.miss(before);
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
    await act(tablet.life, this.chance, this.works.page);
    for (let round = 0; round < REVOKED_ROUNDS; round += 1) {
      this.tablets.passTo(life.dueAt);
      await life.turn();
    }
    await this.works.refresh();
    for (const { id, hash } of life.own.all) {
      if (!known.has(id) && this.works.stands(id, hash))
        this.tablets.wrong.push(`${id} was written by a revoked tablet and is in the log`);
    }
    const now = life.core.copies.cursor;
    if (now !== undefined && !cursors.includes(now))
      this.tablets.wrong.push(`${device.name} was revoked and still reads`);
  }

  /** Somebody clears the site's data under the open app: the next tap says so, and what is in memory is still sent. */
  async #clear(tablet: Tablet): Promise<void> {
    await this.tablets.letLive(tablet);
    tablet.device.disk.unlink();
    tablet.isCleared = true;
    await act(tablet.life, this.chance, this.works.page);
    this.works.way.poison.clear();
    await tablet.life.comeIntoReach();
    // Without its files it keeps nothing that it fetches: it would never be at rest.
    await this.tablets.until([tablet], (life) => life.isSent);
    await this.works.refresh();
    for (const { id, hash } of tablet.life.own.all) {
      if (this.works.has(id, hash) || this.tablets.isUnsendable(id)) continue;
      // A server that was put back without a word took it, and nobody has told this tablet of another epoch yet.
      if (this.works.isGone(id, hash)) continue;
      this.tablets.wrong.push(`${id} was in the memory of a cleared tablet: ${whatIsOpen(tablet.life)}`);
    }
  }

  /** A new tablet in the place of one that can record no more; what the old one holds can be exported from it. */
  async #replace(tablet: Tablet, before: ReadonlyMap<string, string>): Promise<void> {
    this.tablets.retire(tablet);
    for (const { id, hash } of tablet.life.own.all) {
      this.tablets.owed.delete(`${id} ${hash}`);
    }
    await this.tablets.enrol(tablet.device.name, {});
    this.tablets.miss(before);
    await this.works.backup();
  }
}
