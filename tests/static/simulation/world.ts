// SPDX-License-Identifier: Apache-2.0
// One seeded life of a works with a few tablets: people act, requests go their way, and everything that can go wrong
// does. What must always hold is asked after every step; what must hold at the end, when the faults have stopped.
import { Chance } from "../records/chance.js";
import { act, layDown, signOn } from "./acts.js";
import { FEW } from "./device.js";
import { MustHold } from "./must_hold.js";
import { Strikes, type Fault } from "./strikes.js";
import { Tablets } from "./tablets.js";
import type { Child } from "./way.js";
import { Works } from "./works.js";

/** What makes a world; a smaller one of the same seed is a smaller world, not a part of it. */
export interface Plan {
  readonly seed: number;
  readonly tablets: number;
  readonly steps: number;
  readonly faults: readonly Fault[];
  /** How many copied profiles there may be at once. */
  readonly clones: number;
  /** So many times as much is done between two turns of a tablet; 1 is one to three things. */
  readonly busy: number;
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

export class World {
  private readonly tablets: Tablets;
  private readonly strikes: Strikes;
  private readonly mustHold: MustHold;
  #decided: Readonly<Record<string, number>> = {};

  private constructor(
    private readonly plan: Plan,
    private readonly works: Works,
    private readonly chance: Chance,
  ) {
    this.tablets = new Tablets(works, chance);
    this.strikes = new Strikes(this.tablets, works, chance, plan);
    this.mustHold = new MustHold(this.tablets, works);
  }

  /** Live one through; the child serves it. */
  static async run(plan: Plan, child: Child): Promise<Outcome> {
    const chance = new Chance(plan.seed);
    const works = await Works.open(child, chance);
    const world = new World(plan, works, chance);
    const { tablets } = world;
    const restore = world.#takeTheBrowser();
    try {
      await world.#live();
    } catch (problem) {
      tablets.wrong.push(problem instanceof Error ? (problem.stack ?? problem.message) : String(problem));
    } finally {
      restore();
    }
    const { pushes, records, failures } = works.way;
    const { stored, restarts, struck } = tablets;
    const wrong = [...new Set([...tablets.wrong, ...failures, ...works.wrong])];
    return { pushes, records, stored, restarts, struck, decided: world.#decided, wrong };
  }

  /** The app's requests and its steady clock are the world's. */
  #takeTheBrowser(): () => void {
    const { fetch } = globalThis;
    const timeout = AbortSignal.timeout.bind(AbortSignal);
    const steady = performance.now.bind(performance);
    globalThis.fetch = this.works.way.fetch;
    AbortSignal.timeout = () => new AbortController().signal;
    performance.now = () => this.tablets.times.now;
    return () => {
      globalThis.fetch = fetch;
      AbortSignal.timeout = timeout;
      performance.now = steady;
    };
  }

  async #live(): Promise<void> {
    this.tablets.pass(0);
    for (let number = 1; number <= this.plan.tablets; number += 1)
      await this.tablets.enrol(`bench ${number}`);
    if (this.strikes.has("poisoned_lines")) await this.tablets.beginOdd();
    await this.works.backup();
    for (let step = 0; step < this.plan.steps && this.tablets.wrong.length === 0; step += 1) {
      this.tablets.pass(this.chance.whole(1, 20) === 1 ? 70_000 : this.chance.one(5, 40, 400, 1_000, 2_000));
      if (this.chance.whole(1, 25) === 1) await this.#endShift();
      if (this.chance.whole(1, 9) <= 5 || this.strikes.sendsLeft !== undefined) await this.strikes.any();
      if (this.strikes.wouldBeOfferedAnew && this.chance.whole(1, 15) === 1) await this.strikes.putBack();
      await this.#step();
      if (this.works.way.wasAsked()) await this.works.refresh();
      this.mustHold.afterStep();
    }
    if (this.tablets.wrong.length > 0) return;
    // What is missing of what was fetched is seen only where nothing has it fetched anew.
    for (const tablet of [...this.tablets.all])
      if (this.strikes.has("copies_bit_flipped") && this.chance.flip())
        await this.strikes.elsewhere("copies_bit_flipped", tablet);
    await this.#copyAtTheEnd();
    await this.mustHold.whenStill();
    this.#decided = await this.mustHold.compare();
  }

  /** Who writes finds out that its profile was copied; whether it hears of that, only who writes no more. */
  async #copyAtTheEnd(): Promise<void> {
    const tablet = this.tablets.any();
    if (tablet === undefined || !this.strikes.has("profile_cloned")) return;
    await this.strikes.elsewhere("profile_cloned", tablet);
    const last = this.tablets.all.at(-1) ?? tablet;
    for (let left = 3; left > 0; left -= 1) await act(last.life, this.chance, this.works.page);
    await this.tablets.until([last], (life) => life.isSent || last.device.disk.isDead, ROUNDS_OF_A_SENDING);
  }

  async #step(): Promise<void> {
    const tablet = this.tablets.any();
    if (tablet === undefined) return;
    if (tablet.away > 0) {
      tablet.away -= 1;
      return;
    }
    if (this.chance.whole(1, 8) === 1) tablet.image = tablet.device.disk.afterKill();
    const chosen = this.chance.whole(1, 10);
    if (chosen <= 4) {
      for (let left = this.chance.one(1, 2, 3) * this.plan.busy; left > 0; left -= 1)
        await act(tablet.life, this.chance, this.works.page);
    } else if (chosen === 5) await tablet.life.settle();
    else await tablet.life.turn();
    // A process that ended within a call was there no longer when its record was to be shown.
    if (tablet.device.disk.isDead) await this.tablets.restart(tablet);
  }

  /**
   * Work is laid down, the next shift signs on, and all is sent; where the server is then copied, the tablet hears of
   * it, and records leave its journal. Without a copy none may: a server that is put back has to be offered them.
   */
  async #endShift(): Promise<void> {
    const filled = this.tablets.all.filter(({ life }) => life.own.chain.length > FEW);
    const tablet = filled[this.chance.whole(0, Math.max(0, filled.length - 1))];
    if (tablet === undefined) return;
    const { life, device } = tablet;
    const { disk } = device;
    const kept = life.own.base.n;
    await layDown(life);
    await signOn(life, this.chance);
    await signOn(life, this.chance);
    await life.comeIntoReach();
    if (this.strikes.has("server_copied_meanwhile") && this.chance.flip())
      await this.strikes.onRequest("server_copied_meanwhile", tablet);
    await this.tablets.until([tablet], () => life.isSent || disk.isDead, ROUNDS_OF_A_SENDING);
    if (this.chance.flip()) await this.works.backup();
    if (this.strikes.has("tablet_killed_in_turn_over") && this.chance.flip())
      disk.dieBehindEmptying(this.chance.whole(0, 5));
    await signOn(life, this.chance); // its mark says what is copied
    await this.tablets.until([tablet], () => life.own.base.n > kept || disk.isDead, ROUNDS_OF_A_SENDING);
    if (disk.isDead) await this.tablets.restart(tablet);
    // Now what left by mistake is nowhere but in the log.
    if (this.chance.whole(1, 8) === 1) await this.strikes.putBack();
  }
}

const ROUNDS_OF_A_SENDING = 25;
