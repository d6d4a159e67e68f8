// SPDX-License-Identifier: Apache-2.0
// What people do at the tablets of a simulated works: mostly what screens let them do, by what the tablet shows.
import { byName, people } from "../../../static/src/definitions/people.js";
import { MOST_PAIRS } from "../../../static/src/folds/copies.js";
import type { Draft, ReadRecord } from "../../../static/src/records/kinds.js";
import type { Chance } from "../records/chance.js";
import { ask, lookThrough, PINS, second, seenOf, type Page } from "./asks.js";
import type { Life } from "./device.js";

/** Batches of a chain that nobody ever hears of. */
const ELSEWHERE = "a".repeat(26);
export const LOOKS = ["first", "second"] as const;
const DEFECTS = ["lap", "cold_shut", "not_sure", "dent", "scratch"] as const;

/** A JPEG of one pixel, made another one by the comment behind its first marker. */
const PIXEL =
  "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAFA3PEY8MlBGQUZaVVBfeMiCeG5uePWvuZHI////////////////////////////////////////////////////wAALCAABAAEBAREA/8QAFAABAAAAAAAAAAAAAAAAAAAAAP/EABQQAQAAAAAAAAAAAAAAAAAAAAD/2gAIAQEAAD8AP//Z";

type About = { readonly batch: string; readonly definition: string; readonly v: 1 };

/** Do one thing on a tablet, or a few behind one another. */
export async function act(life: Life, chance: Chance, page: Page): Promise<void> {
  if (life.own.signOn() === undefined || chance.whole(1, 40) === 1) return signOn(life, chance);
  const batches = life.core.copies.batches?.lines ?? [];
  const line = batches[chance.whole(0, Math.max(0, batches.length - 1))];
  if (line === undefined) return;
  if (chance.whole(1, 30) === 1 && batches.length < 4) {
    const number = `W-${chance.whole(1, 3)}`;
    await life.add({ kind: "batch_opened", v: 1, definition: line.definition, body: { number, pieces: 60 } });
    return;
  }
  if (chance.whole(1, 40) === 1) return takePicture(life, chance);
  if (chance.whole(1, 25) === 1) return lookThrough(life, line.definition, chance, page);
  if (chance.whole(1, 12) === 1) return ask(life, line.batch, chance, page);
  if (chance.whole(1, 15) === 1) return second(life, line.batch, chance);
  const look = chance.one(...LOOKS);
  if (!(`${line.batch}/${look}` in life.core.copies.pairs) || chance.whole(1, 30) === 1)
    await life.takeUp(line.batch, look);
  const about: About = { batch: line.batch, definition: line.definition, v: 1 };
  const times = chance.one(1, 5, 12, 25, 40);
  for (let time = 0; time < times; time += 1) await life.add(atBench(life, about, look, chance));
}

/** Somebody signs on, now and then with a PIN. */
export async function signOn(life: Life, chance: Chance): Promise<void> {
  const known = byName(people(life.shown()));
  const person = known[chance.whole(0, Math.max(0, known.length - 1))];
  if (person === undefined) return;
  // To judge a PIN takes the server longer than twenty pushes: it is given now and then.
  const pin = chance.whole(1, 12) > 1 ? undefined : chance.whole(1, 4) === 1 ? "0000" : PINS[person.name];
  await life.signOn(person.id, pin);
}

/** Other work is taken up, so much that nothing of before is carried: what is safe may leave the journal. */
export async function layDown(life: Life): Promise<void> {
  for (let n = 1; n <= MOST_PAIRS; n += 1) await life.takeUp(`${ELSEWHERE}:${n}`, "first");
}

function atBench(life: Life, about: About, look: string, chance: Chance): Draft {
  const shown = life.shown().filter((record) => record.batch === about.batch);
  const own = shown.filter((record) => record.chain === life.own.name);
  const tray = trayOf(own, look);
  if (tray === undefined || chance.whole(1, 25) === 1) {
    return { ...about, kind: "tray_opened", body: { look, number: chance.whole(1, 6), places: 10 } };
  }
  const mark = markOf(shown, look, chance);
  const made = chance.whole(1, 100);
  if (mark !== undefined && made <= 12) {
    return { batch: about.batch, v: 1, kind: "record_withdrawn", body: { look, record: mark.id } };
  }
  if (mark !== undefined && made <= 24) {
    const verdict = chance.one("accept", "rework", "query", "reject");
    const settles = chance.flip() ? { settles: [mark.id] } : {};
    return { ...about, kind: "piece_judged", body: { look, piece: mark.id, verdict, ...settles } };
  }
  if (made <= 30) {
    const [rejected, accepted] = [chance.whole(0, 3), chance.whole(0, 10)];
    const body = {
      look,
      tray: tray.id,
      places: 10,
      empty_counted: 0,
      accepted,
      rejected,
      rework: 0,
      query: 0,
    };
    return { ...about, kind: "tray_closed", body: { ...body, all_looked_at: true } };
  }
  if (made <= 33) {
    const trays = [1, 2, 3].map((number) => ({ number, pieces: chance.whole(8, 10) }));
    return { ...about, kind: "pieces_counted", body: { look, pieces: chance.whole(27, 30), trays } };
  }
  if (made <= 35) return { batch: about.batch, v: 1, kind: "hold_placed", body: { why: "a sound", look } };
  if (made <= 37)
    return { batch: about.batch, v: 1, kind: "rework_sent", body: { look, pieces: chance.whole(1, 3) } };
  if (made <= 39)
    return { batch: about.batch, v: 1, kind: "rework_returned", body: { look, pieces: chance.whole(1, 3) } };
  if (made <= 41)
    return {
      batch: about.batch,
      v: 1,
      kind: "look_signed",
      body: { look, seen: seenOf(shown, about.batch, chance) },
    };
  if (made <= 43)
    return {
      batch: about.batch,
      v: 1,
      kind: "pieces_made",
      body: { operation: 40, pieces: 25, counted: "key" },
    };
  const zone = chance.flip() ? { zone: chance.one("spine", "nose") } : {};
  const piece = mark !== undefined && chance.whole(1, 5) === 1 ? { piece: mark.id } : {};
  return {
    ...about,
    kind: "defect_tallied",
    body: { look, tray: tray.id, defect: chance.one(...DEFECTS), ...zone, ...piece },
  };
}

/** A picture of what is on the bench; no two are the same. */
async function takePicture(life: Life, chance: Chance): Promise<void> {
  const mark = life.own.all.filter(({ kind }) => kind === "defect_tallied").at(-1);
  if (mark === undefined) return;
  const pixel = Uint8Array.from(atob(PIXEL), (letter) => letter.charCodeAt(0));
  const length = chance.whole(8, 3_000);
  const comment = Uint8Array.of(
    0xff,
    0xfe,
    (length + 2) >> 8,
    (length + 2) & 0xff,
    ...Array.from({ length }, () => chance.whole(32, 126)),
  );
  const bytes = new Uint8Array(pixel.length + comment.length);
  bytes.set(pixel.subarray(0, 2));
  bytes.set(comment, 2);
  bytes.set(pixel.subarray(2), 2 + comment.length);
  const { id: piece, known } = mark;
  if (known?.kind !== "defect_tallied") return;
  const { batch, definition, body } = known;
  const { look, tray } = body;
  await life.attach(bytes, { batch, definition, look, tray, piece });
}

function trayOf(own: readonly ReadRecord[], look: string): ReadRecord | undefined {
  return own.filter(({ known }) => known?.kind === "tray_opened" && known.body.look === look).at(-1);
}

function markOf(shown: readonly ReadRecord[], look: string, chance: Chance): ReadRecord | undefined {
  const found = shown.filter(({ known }) => known?.kind === "defect_tallied" && known.body.look === look);
  return found[chance.whole(0, Math.max(0, found.length - 1))];
}
