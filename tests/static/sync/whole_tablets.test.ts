// SPDX-License-Identifier: Apache-2.0
import { expect, it } from "vitest";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldTally } from "../../../static/src/folds/tally.js";
import { BATCH } from "../folds/bench.js";
import { Chance } from "../records/chance.js";
import { DEFINITIONS, LineServer, WholeTablet, type Fault } from "./whole_tablets.js";

const SEEDS = 25;
const STEPS = 160;

/** Two tablets of one batch, tapping, losing requests and being killed as the seed says. */
async function run(seed: number): Promise<{ server: LineServer; tablets: WholeTablet[] }> {
  const chance = new Chance(seed);
  const server = new LineServer();
  const tablets = [new WholeTablet(server, chance), new WholeTablet(server, chance)];
  for (const tablet of tablets) await tablet.start();
  for (let at = 0; at < STEPS; at += 1) {
    const tablet = chance.flip() ? tablets[0] : tablets[1];
    if (tablet === undefined) continue;
    const fate = chance.whole(1, 20);
    if (fate <= 6) await tablet.tap();
    else if (fate === 7) await tablet.tap(chance.whole(0, 300));
    else if (fate === 8) await tablet.kill();
    else if (fate === 9) tablet.goElsewhere();
    else if (fate === 10) tablet.comeBack();
    else await tablet.turn(chance.one<Fault>("none", "none", "lost_request", "lost_answer", "portal"));
    const safe = new Set(server.log.map((record) => record.id));
    const written = await tablet.inJournal();
    for (const id of tablet.stored) {
      expect(safe.has(id) || written.has(id), `${id} was shown as stored and is gone (seed ${seed})`).toBe(
        true,
      );
    }
  }
  return { server, tablets };
}

async function settle(tablets: readonly WholeTablet[], rounds = 400): Promise<void> {
  for (let round = 0; round < rounds; round += 1) {
    for (const tablet of tablets) await tablet.turn("none");
  }
}

it.each(Array.from({ length: SEEDS }, (_, seed) => [seed + 1]))(
  "with seed %i nothing shown as stored is lost, and both tablets and the server agree when the faults stop",
  async (seed) => {
    const { server, tablets } = await run(seed);
    for (const tablet of tablets) tablet.comeBack();
    await settle(tablets);
    expectAgreement(server, tablets, seed);
  },
);

it("lets records go while their batch is not carried, goes on behind them, and fetches them when it is again", async () => {
  let left = 0;
  for (let seed = 1; seed <= SEEDS; seed += 1) {
    const { server, tablets } = await run(seed);
    for (const tablet of tablets) tablet.goElsewhere();
    await settle(tablets, 60);
    left += tablets.filter((tablet) => tablet.left > 0).length;
    for (const tablet of tablets) {
      await tablet.kill();
      tablet.comeBack();
      await tablet.tap();
    }
    await settle(tablets);
    expectAgreement(server, tablets, seed);
  }
  expect(left).toBeGreaterThan(SEEDS / 2);
});

function expectAgreement(server: LineServer, tablets: readonly WholeTablet[], seed: number): void {
  const held = server.log.filter((record) => record.batch === BATCH);
  const expected = foldTally(new Gathered(held), DEFINITIONS);
  for (const tablet of tablets) {
    expect(tablet.isConfirmed, `seed ${seed}`).toBe(true);
    const shown = tablet.shown().filter((record) => record.batch === BATCH);
    expect(new Set(shown.map((record) => record.id)).size).toBe(shown.length);
    expect(foldTally(new Gathered(shown), DEFINITIONS), `seed ${seed}`).toEqual(expected);
  }
}
