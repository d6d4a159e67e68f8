// SPDX-License-Identifier: Apache-2.0
// What must hold: after every step, when the faults have stopped, and of what tablets and server then hold.
import { partDefinitions } from "../../../static/src/definitions/published.js";
import { foldBench } from "../../../static/src/folds/bench.js";
import { MOST_PAIRS } from "../../../static/src/folds/copies.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { isCarried, pairOf } from "../../../static/src/sync/held_records.js";
import { LOOKS } from "./acts.js";
import type { Life } from "./device.js";
import { whatIsOpen, type Tablets } from "./tablets.js";
import type { Works } from "./works.js";

export class MustHold {
  constructor(
    private readonly tablets: Tablets,
    private readonly works: Works,
  ) {}

  /** What must hold after every step. */
  afterStep(): void {
    for (const key of this.tablets.owed.keys()) {
      const [id = "", hash = ""] = key.split(" ");
      if (this.works.has(id, hash) || this.tablets.isInJournal(id, hash)) continue;
      if (this.tablets.frail.has(key)) this.tablets.owed.delete(key);
      else this.tablets.wrong.push(`${id} was shown as stored and is nowhere`);
    }
    for (const { life } of this.tablets.all) {
      const { confirmed, chain } = life.core.sending;
      const said = life.own.chain[confirmed - life.own.base.n - 1];
      if (this.works.wasPutBack || said === undefined || life.ended !== undefined) continue;
      if (!this.works.has(said.id, said.hash))
        this.tablets.wrong.push(`${chain}:${confirmed} is said to be confirmed and is not held`);
    }
  }

  /** The faults stop; everything that is on a tablet has to arrive, and everything that is carried to come. */
  async whenStill(): Promise<void> {
    this.works.way.poison.clear();
    await this.works.refold();
    for (const tablet of this.tablets.all) {
      await this.tablets.letLive(tablet);
      await tablet.life.settle();
      await this.#hearAgain(tablet.life);
    }
    const signed = this.tablets.all.flatMap(({ life }) => life.signed);
    await this.tablets.untilSettled(this.tablets.all);
    // Somebody heard last that the server was put back, or that another goes on in his chain: now all do.
    for (const { life } of this.tablets.all) await this.#hearAgain(life);
    // A line that was still under way when the way let it through again waits once more, longer than the rounds above.
    this.tablets.passAside();
    await this.tablets.untilSettled(this.tablets.all);
    await this.tablets.sendPoison();
    await this.works.refresh();
    this.afterStep();
    for (const { id, hash } of signed)
      if (!this.works.has(id, hash))
        this.tablets.wrong.push(`${id} of the server was held by a tablet and is nowhere`);
    for (const { id, hash } of this.tablets.odd?.all ?? [])
      if (!this.works.has(id, hash))
        this.tablets.wrong.push(`${id} of a device with poisoned lines is not kept`);
    for (const { device, life } of this.tablets.all) {
      if (!life.isSettled)
        this.tablets.wrong.push(`${device.name} has not come to rest: ${whatIsOpen(life)}`);
    }
    for (const { device, life } of this.tablets.all) {
      for (const { chain, exceptions } of [life.core.sending, ...life.core.former]) {
        for (const { n, code } of exceptions) {
          const own = life.own.all.find((one) => one.chain === chain && one.n === n);
          if (own !== undefined && this.works.stands(own.id, own.hash))
            this.tablets.wrong.push(`${device.name} says ${code} of ${own.id}, which is in the log`);
        }
      }
    }
    for (const key of this.tablets.owed.keys()) {
      const [id = "", hash = ""] = key.split(" ");
      if (!this.works.has(id, hash) && !this.tablets.isUnsendable(id))
        this.tablets.wrong.push(`${id} never came to the server`);
    }
  }

  /** A tablet in reach hears by itself what there is, but for what a server lost that was put back: it has to ask. */
  async #hearAgain(life: Life): Promise<void> {
    if (this.works.wasPutBack) await life.comeIntoReach();
    else life.awaitPull();
  }

  /** Tablets and server hold the same of what is carried, and fold it to the same; returns what was decided. */
  async compare(): Promise<Readonly<Record<string, number>>> {
    for (const tablet of this.tablets.all) this.tablets.leave(tablet);
    const { wrong, folded, decided } = await this.works.judge(this.tablets.secrets);
    this.tablets.wrong.push(...wrong);
    const { life: observer } = await this.tablets.enrol("observer");
    // Some had come to rest before the last of the others' records arrived.
    for (const { life } of this.tablets.all) await this.#hearAgain(life);
    await this.tablets.untilSettled(this.tablets.all);
    const batches = Object.entries(folded);
    const atOnce = Math.floor(MOST_PAIRS / LOOKS.length); // a tablet carries no more
    for (let first = 0; first < batches.length; first += atOnce) {
      const carried = batches.slice(first, first + atOnce);
      for (const [batch] of carried) for (const look of LOOKS) await observer.takeUp(batch, look);
      await this.tablets.untilSettled(this.tablets.all);
      if (!observer.isSettled)
        this.tablets.wrong.push(`the observer has not come to rest: ${whatIsOpen(observer)}`);
      await this.works.refresh();
      const shown = observer.shown();
      this.#missCarried(shown.filter(({ chain }) => chain !== observer.own.name));
      const definitions = partDefinitions(shown, observer.core.copies.files);
      for (const [batch, expected] of carried) {
        const ofBatch = shown.filter((one) => one.batch === batch || one.id === batch);
        const other = difference(foldBench(ofBatch, definitions, observer.authors), expected, "");
        if (other !== undefined)
          this.tablets.wrong.push(`tablet and server fold ${batch} to other states: ${other}`);
        this.#compareCarried(batch, definitions, expected);
      }
    }
    const standing = new Map(observer.shown().map((record) => [record.id, record.line]));
    for (const { device, life } of this.tablets.all) {
      for (const record of life.shown()) {
        if (!this.#isForked(record.id) && standing.has(record.id) && standing.get(record.id) !== record.line)
          this.tablets.wrong.push(`${device.name} shows other bytes of ${record.id}`);
      }
    }
    return decided;
  }

  /** Whatever belongs to what a tablet carries, it shows, however it was told of it. */
  #missCarried(all: readonly ReadRecord[]): void {
    for (const { device, life } of this.tablets.all) {
      const shown = new Set(life.shown().map(({ id }) => id));
      for (const record of all) {
        if (this.#isForked(record.id)) continue;
        if (!shown.has(record.id) && isCarried(record, life.core.copies.pairs))
          this.tablets.wrong.push(
            `${device.name} carries what ${record.id} belongs to, and does not show it`,
          );
      }
    }
  }

  /** Two tablets of one profile wrote it, or another key: it waits for somebody, and its tablet shows it meanwhile. */
  #isForked(id: string): boolean {
    return this.works.hashesOf(id) > 1 || this.tablets.isUnsendable(id);
  }

  /** A tablet that carries both looks of a batch, and was told of it piece by piece, folds it to the same. */
  #compareCarried(batch: string, definitions: ReturnType<typeof partDefinitions>, expected: unknown): void {
    for (const { device, life } of this.tablets.all) {
      if (!LOOKS.every((look) => life.core.copies.pairs[pairOf(batch, look)]?.whole === true)) continue;
      const shown = life.shown();
      // What was set aside waits for a lead, and its tablet shows it, in the place of what stands under its number.
      if (!shown.every(({ id, hash }) => this.works.stands(id, hash))) continue;
      const ofBatch = shown.filter((one) => one.batch === batch || one.id === batch);
      const other = difference(foldBench(ofBatch, definitions, life.authors), expected, "");
      if (other !== undefined)
        this.tablets.wrong.push(`${device.name} folds ${batch} to another state: ${other}`);
    }
  }
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
