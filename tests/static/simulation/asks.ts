// SPDX-License-Identifier: Apache-2.0
// What people decide at the tablets of a simulated works: whole looks, requests, second names. A decision needs a PIN
// of its own; some give a wrong one, some none, some have seen less than there is.
import { partDefinitions } from "../../../static/src/definitions/published.js";
import { foldBench } from "../../../static/src/folds/bench.js";
import { people } from "../../../static/src/definitions/people.js";
import { byId } from "../../../static/src/folds/gathered.js";
import type { Draft, ReadRecord } from "../../../static/src/records/kinds.js";
import type { Chance } from "../records/chance.js";
import type { Life } from "./device.js";

export const PINS: Readonly<Record<string, string>> = {
  "Ines Brandt": "4071",
  "Piotr Zielny": "5823",
  "Maren Holt": "3960",
  "Jonas Falk": "harbour-71",
};
const PLACES = 10;
const TRAYS = [1, 2] as const;

type Name = "Ines Brandt" | "Piotr Zielny" | "Maren Holt" | "Jonas Falk";

/** How far the chains of a batch were seen. */
export type Seen = { chain: string; n: number }[];
/** What somebody has seen who looks at the page of a batch. */
export type Page = (batch: string) => Promise<Seen>;

/** Somebody takes the tablet in hand; false where the tablet does not know them yet. */
async function takeInHand(life: Life, name: Name, chance: Chance): Promise<boolean> {
  const person = people(life.shown()).find((one) => one.name === name);
  if (person === undefined) return false;
  const given = chance.whole(1, 16);
  await life.signOn(person.id, given === 1 ? "0000" : given === 2 ? undefined : PINS[name]);
  return true;
}

/** How far each chain of a batch was seen; now and then less than that. */
export function seenOf(shown: readonly ReadRecord[], batch: string, chance: Chance): Seen {
  const upTo = new Map<string, number>();
  for (const { id } of shown.filter((one) => one.batch === batch || one.id === batch)) {
    // What was admitted stands in the chain of its admission.
    const [chain = "", n = "0"] = id.split(":");
    upTo.set(chain, Math.max(Number(n), upTo.get(chain) ?? 0));
  }
  const less = chance.whole(1, 8) === 1 ? 1 : 0;
  return [...upTo].map(([chain, n]) => ({ chain, n: Math.max(1, n - less) }));
}

/** A small batch goes through both its looks by two people, and is asked to be released; something may come between. */
export async function lookThrough(life: Life, definition: string, chance: Chance, page: Page): Promise<void> {
  const number = `R-${chance.whole(1, 999)}`;
  const places = PLACES * TRAYS.length;
  await life.add({ kind: "batch_opened", v: 1, definition, body: { number, pieces: places } });
  const batch = life.own.all.at(-1)?.id;
  if (batch === undefined) return;
  await life.takeUp(batch, "first");
  await life.takeUp(batch, "second");
  const about = { batch, definition, v: 1 } as const;
  const hands = { first: "Ines Brandt", second: "Piotr Zielny" } as const;
  for (const look of ["first", "second"] as const) {
    if (!(await takeInHand(life, "Maren Holt", chance))) return;
    const trays = TRAYS.map((tray) => ({ number: tray, pieces: PLACES }));
    await life.add({ ...about, kind: "pieces_counted", body: { look, pieces: places, trays } });
    await takeInHand(life, hands[look], chance);
    for (const tray of TRAYS) await tallyTray(life, about, look, tray, chance);
    const seen = seenOf(life.shown(), batch, chance);
    await life.add({ batch, v: 1, kind: "look_signed", body: { look, seen } });
  }
  await ask(life, batch, chance, page, "release_requested");
}

async function tallyTray(
  life: Life,
  about: { readonly batch: string; readonly definition: string; readonly v: 1 },
  look: string,
  number: number,
  chance: Chance,
): Promise<void> {
  await life.add({ ...about, kind: "tray_opened", body: { look, number, places: PLACES } });
  const tray = life.own.all.at(-1)?.id ?? "";
  const isFound = chance.whole(1, 8) === 1;
  if (isFound) await life.add({ ...about, kind: "defect_tallied", body: { look, tray, defect: "dent" } });
  const [accepted, rejected] = isFound ? [PLACES - 1, 1] : [PLACES, 0];
  const counts = { places: PLACES, empty_counted: 0, accepted, rejected, rework: 0, query: 0 };
  const body = { look, tray, ...counts, all_looked_at: true } as const;
  await life.add({ ...about, kind: "tray_closed", body });
}

const ASKED = [
  "hold_lift_requested",
  "disposition_requested",
  "difference_acceptance_requested",
  "release_requested",
] as const;

/** The lead asks for something about a batch, with a PIN given for it alone. */
export async function ask(
  life: Life,
  batch: string,
  chance: Chance,
  page: Page,
  kind: (typeof ASKED)[number] = chance.one(...ASKED),
): Promise<void> {
  // Whoever decides is in contact, mostly, and sends what was done here before.
  await life.comeIntoReach();
  for (let turns = chance.whole(0, 8); turns > 0; turns -= 1) await life.turn();
  const known = seenOf(life.shown(), batch, chance);
  const there = chance.whole(1, 8) > 1 ? await page(batch) : [];
  // What was done on this tablet a moment ago is on no page yet.
  const own = known.filter(({ chain }) => chain === life.own.name);
  const seen = there.length === 0 ? known : [...there.filter(({ chain }) => chain !== life.own.name), ...own];
  const draft = askedOf(life, batch, kind, seen, chance);
  if (draft === undefined || !(await takeInHand(life, "Jonas Falk", chance))) return;
  await life.add(draft);
  if (chance.flip()) await second(life, batch, chance);
}

function askedOf(
  life: Life,
  batch: string,
  kind: (typeof ASKED)[number],
  seen: Seen,
  chance: Chance,
): Draft | undefined {
  const shown = life.shown();
  const about = { batch, v: 1 } as const;
  if (kind === "release_requested") return { ...about, kind, body: { seen } };
  const definitions = partDefinitions(shown, life.core.copies.files);
  const of = shown.filter((one) => one.batch === batch || one.id === batch);
  const { holds, looks, tally } = foldBench(of, definitions, life.authors);
  switch (kind) {
    case "hold_lift_requested": {
      const standing = holds.holds.filter((hold) => hold.lifted_by === "");
      const hold = standing[chance.whole(0, Math.max(0, standing.length - 1))];
      return hold && { ...about, kind, body: { holds: [hold.id], seen, why: "looked at again" } };
    }
    case "disposition_requested": {
      const mark = tally.marks[chance.whole(0, Math.max(0, tally.marks.length - 1))];
      if (mark === undefined) return undefined;
      const verdict = chance.one("accept", "rework", "reject");
      return { ...about, kind, body: { piece: mark.piece, look: mark.look, verdict, seen } };
    }
    default: {
      const points = looks.flatMap(({ look, points }) => points.map((point) => ({ look, ...point })));
      const point = points[chance.whole(0, Math.max(0, points.length - 1))];
      if (point === undefined) return undefined;
      const { look, kind: difference, subject, amount } = point;
      return { ...about, kind, body: { look, subject, difference, amount, seen, why: "searched the bin" } };
    }
  }
}

/** Somebody puts the second name under a request about a batch. */
export async function second(life: Life, batch: string, chance: Chance): Promise<void> {
  const asked = life
    .shown()
    .filter((one) => one.batch === batch && one.known?.kind.endsWith("_requested") === true)
    .sort((left, right) => byId(left.id, right.id));
  const request = asked[chance.whole(0, Math.max(0, asked.length - 1))];
  if (request === undefined) return;
  if (await takeInHand(life, chance.one("Ines Brandt", "Piotr Zielny", "Jonas Falk"), chance))
    await life.add({ batch, v: 1, kind: "request_seconded", body: { request: request.id } });
}
