// SPDX-License-Identifier: Apache-2.0
// World after world from a seed; a world in which something is wrong is made smaller until nothing can be left out.
import { Chance } from "../records/chance.js";
import { FAULTS } from "./strikes.js";
import type { Child } from "./way.js";
import { World, type Outcome, type Plan } from "./world.js";

export interface Wanted {
  readonly seed: number;
  /** Enough when so many pushes reached the server, or so many seconds passed. */
  readonly pushes: number;
  readonly seconds: number;
  /** True to tell of the first failing world as it is. */
  readonly asItIs?: boolean;
  /** Of the faults a world has, those with other names are left out; none is where no name is given. */
  readonly faults?: readonly string[];
  /** So many times as much is done between two turns of a tablet. */
  readonly busy: number;
}

export interface Told {
  readonly worlds: number;
  readonly firstSeed: number;
  readonly lastSeed: number;
  readonly pushes: number;
  readonly records: number;
  readonly stored: number;
  readonly restarts: number;
  readonly struck: Readonly<Record<string, number>>;
  readonly decided: Readonly<Record<string, number>>;
  readonly seconds: number;
  /** The smallest plan that shows what is wrong, and what it is. */
  readonly failed?: { readonly plan: Plan; readonly wrong: readonly string[] };
}

/** Those that can only strike behind others, or seldom can, stand twice among the faults. */
const RARE = [
  "profile_cloned",
  "image_put_back",
  "tablet_revoked",
  "tablet_killed_within_a_call",
  "tablet_without_room",
  "flush_fails",
] as const;

/**
 * Each world has some of the faults, one to three tablets and a longer or a shorter life, because what is there hides
 * what is not: a tablet that tells the server what it lost hides that another did not.
 * (Groce, Zhang, Eide, Chen and Regehr, Swarm Testing, ISSTA 2012; cited from memory.)
 */
export function planOf(seed: number): Plan {
  const chance = new Chance(seed);
  const faults = [...FAULTS, ...RARE].filter(() => chance.whole(1, 3) > 1);
  return {
    seed,
    tablets: chance.whole(1, 3),
    steps: chance.whole(50, 250),
    faults,
    clones: chance.whole(1, 3),
    busy: 1,
  };
}

export async function simulate(wanted: Wanted, child: Child, say: (line: string) => void): Promise<Told> {
  const began = Date.now();
  const seconds = (): number => Math.round((Date.now() - began) / 1000);
  const sum = { worlds: 0, pushes: 0, records: 0, stored: 0, restarts: 0 };
  const struck: Record<string, number> = {};
  const decided: Record<string, number> = {};
  const unknown = wanted.faults?.filter((one) => !FAULTS.some((fault) => fault === one)) ?? [];
  if (unknown.length > 0)
    throw new Error(`there is no fault ${unknown.join(", ")}; there are ${FAULTS.join(", ")}`);
  let seed = wanted.seed;
  for (; sum.pushes < wanted.pushes && seconds() < wanted.seconds; seed += 1) {
    const drawn = planOf(seed);
    const faults = drawn.faults.filter((one) => wanted.faults?.includes(one) ?? true);
    const plan = { ...drawn, faults, busy: wanted.busy };
    const outcome = await World.run(plan, child);
    sum.worlds += 1;
    for (const name of ["pushes", "records", "stored", "restarts"] as const) sum[name] += outcome[name];
    addTo(struck, outcome.struck);
    addTo(decided, outcome.decided);
    if (outcome.wrong.length > 0) {
      say(`seed ${seed}: ${outcome.wrong.slice(0, 3).join("; ")}`);
      const asItIs = { plan, wrong: outcome.wrong };
      const failed = wanted.asItIs === true ? asItIs : await smallest(plan, outcome, child, say);
      return { ...sum, firstSeed: wanted.seed, lastSeed: seed, struck, decided, seconds: seconds(), failed };
    }
    if (sum.worlds % 50 === 0) say(`${sum.worlds} worlds, ${sum.pushes} pushes, ${seconds()} s`);
  }
  return { ...sum, firstSeed: wanted.seed, lastSeed: seed - 1, struck, decided, seconds: seconds() };
}

function addTo(sum: Record<string, number>, counts: Readonly<Record<string, number>>): void {
  for (const [name, count] of Object.entries(counts)) sum[name] = (sum[name] ?? 0) + count;
}

/** Less between two turns, fewer tablets, fewer steps, fewer faults, as long as something is wrong. */
export async function smallest(
  plan: Plan,
  outcome: Outcome,
  child: Child,
  say: (line: string) => void,
): Promise<{ readonly plan: Plan; readonly wrong: readonly string[] }> {
  let [best, wrong] = [plan, outcome.wrong];
  const tries = (smaller: Plan): Promise<boolean> =>
    World.run(smaller, child).then(({ wrong: found }) => {
      if (found.length === 0) return false;
      [best, wrong] = [smaller, found];
      say(`smaller: ${smaller.tablets} tablets, ${smaller.steps} steps, ${smaller.faults.length} faults`);
      return true;
    });
  if (best.busy > 1) await tries({ ...best, busy: 1 });
  for (let tablets = 1; tablets < best.tablets; tablets += 1) if (await tries({ ...best, tablets })) break;
  for (let less = Math.floor(best.steps / 2); less >= 1; less = Math.floor(less / 2)) {
    while (best.steps > less && (await tries({ ...best, steps: best.steps - less })));
  }
  for (const fault of best.faults)
    await tries({ ...best, faults: best.faults.filter((one) => one !== fault) });
  return { plan: best, wrong };
}
