// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, it, vi } from "vitest";
import { after, NOTHING, type Copies } from "../../../static/src/folds/copies.js";
import { foundAt } from "../../../static/src/folds/gathered.js";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldTally } from "../../../static/src/folds/tally.js";
import { hashOf } from "../../../static/src/records/hash.js";
import type { ReadRecord } from "../../../static/src/records/kinds.js";
import { HeldRecords } from "../../../static/src/sync/held_records.js";
import { OwnRecords } from "../../../static/src/sync/own_records.js";
import { ServerClock } from "../../../static/src/sync/server_clock.js";
import { stampOf } from "../../../static/src/sync/stamp.js";
import { makeKeys, publicText, signRun } from "../../../static/src/sync/signing.js";
import { failureOf } from "../../../static/src/sync/enrolment.js";
import { Bench, BATCH, DEFINITION, IDS, PART } from "../folds/bench.js";

function fetched(records: readonly ReadRecord[], pairs: readonly string[], more = false): Copies {
  const lines = records.map((record) => record.line);
  const takenUp = pairs.reduce((copies, pair) => after(copies, { entry: "taken_up", pair }), NOTHING);
  return after(takenUp, { entry: "page", page: { epoch: "e", cursor: "1.x", more, pairs, lines } });
}

const other = new Bench("b");
other.signOn(IDS.ben);
const tray = other.openTray(1);
other.find(tray, "lap");
const withdrawal = other.takeBack(other.find(tray, "lap"));

describe("the records a tablet shows", () => {
  const own = new Bench("a");
  own.signOn(IDS.anna);
  own.openTray(2);

  it("are its own, and those of a pair that is whole", () => {
    const all = new HeldRecords().all(fetched(other.ofBatch(), [`${BATCH}/first`]), own.records);
    expect(all.map((record) => record.id)).toEqual([
      ...other.ofBatch().map((record) => record.id),
      ...own.records.map((record) => record.id),
    ]);
  });

  it("hold a line of its own that was admitted once, under its admission's id, beside the copy's record", () => {
    const copy = new Bench("a");
    copy.signOn(IDS.anna);
    copy.openTray(3);
    const server = new Bench("s");
    const line = own.records[2]?.line ?? "";
    const body = { line, names: [], look: "first" };
    server.add({ batch: BATCH, kind: "set_aside_admitted", v: 1, body });
    const came = [...copy.ofBatch(), ...server.ofBatch()];
    const all = new HeldRecords().all(fetched(came, [`${BATCH}/first`]), own.records);
    const trays = all.flatMap(({ id, known }) =>
      known?.kind === "tray_opened" ? [[id, known.body.number]] : [],
    );
    expect(trays).toEqual([
      [`${"a".repeat(26)}:3`, 3],
      [`${"s".repeat(26)}:2`, 2],
    ]);
  });

  it("hold nothing of a pair that is not whole but its own", () => {
    const all = new HeldRecords().all(fetched(other.ofBatch(), [`${BATCH}/first`], true), own.records);
    expect(all).toEqual(own.records);
  });

  it("hold nothing of another look of the batch", () => {
    const all = new HeldRecords().all(fetched(other.ofBatch(), [`${BATCH}/second`]), own.records);
    expect(all).toEqual(own.records);
  });

  it("hold what is works-wide though no pair was taken up", () => {
    const wide = other.records.filter((record) => record.batch === undefined);
    expect(new HeldRecords().all(fetched(wide, [], true), [])).toHaveLength(wide.length);
  });

  it("hold each once, however often it came", () => {
    const twice = [...other.ofBatch(), ...other.ofBatch(), ...own.ofBatch()];
    const all = new HeldRecords().all(fetched(twice, [`${BATCH}/first`]), own.records);
    expect(new Set(all.map((record) => record.id)).size).toBe(all.length);
    expect(all.some((record) => record.id === withdrawal)).toBe(true);
  });

  it("hazard_E9 count marks that wait once: before they are sent, while they come back, and after", () => {
    const bench = new Bench("d");
    bench.signOn(IDS.anna);
    const marked = bench.openTray(4);
    for (let find = 0; find < 10; find += 1) bench.find(marked, "lap");
    const pair = `${BATCH}/first`;
    const came = bench.ofBatch();
    const counted = (back: readonly ReadRecord[], kept: readonly ReadRecord[]) =>
      foldTally(
        new Gathered(
          new HeldRecords().all(fetched(back, [pair]), kept).filter(({ batch }) => batch === BATCH),
        ),
        new Map([[PART, DEFINITION]]),
      );
    const before = counted([], bench.records);
    expect(before.marks).toHaveLength(10);
    expect(counted(came.slice(0, 6), bench.records)).toEqual(before);
    expect(counted([...came, ...came], bench.records)).toEqual(before);
    expect(counted(came, [])).toEqual(before);
  });

  it("are the same list as long as nothing new came", () => {
    const held = new HeldRecords();
    const copies = fetched(other.ofBatch(), [`${BATCH}/first`]);
    const later = after(copies, {
      entry: "page",
      page: { epoch: "e", cursor: "2.x", more: false, pairs: [`${BATCH}/first`], lines: [] },
    });
    expect(held.all(later, own.records)).toBe(held.all(copies, own.records));
  });

  it("leave out a line that this version cannot read", () => {
    const copies = after(NOTHING, {
      entry: "page",
      page: { epoch: "e", cursor: "1.x", more: false, pairs: [], lines: ['{"from":"the future"}'] },
    });
    expect(new HeldRecords().all(copies, [])).toEqual([]);
  });
});

describe("the own records", () => {
  const bench = new Bench("a");
  bench.signOn(IDS.anna);
  const last = bench.signOn(IDS.ben);

  it("name who is signed on: the last of the chain", () => {
    expect(new OwnRecords(bench.records).signOn()).toEqual({ id: last, person: IDS.ben });
  });

  it("show the number that is missing", () => {
    const [first, , third] = bench.records;
    expect(new OwnRecords([first, third].filter((one) => one !== undefined)).gapAt).toBe(2);
    expect(new OwnRecords(bench.records).gapAt).toBeUndefined();
  });

  it("tell the outbox each hash, worked out or named by the record behind", () => {
    expect(new OwnRecords(bench.records).outlines().map((own) => own.hash)).toEqual(
      bench.records.map((record) => hashOf(record.line)),
    );
  });

  it("begin with the last chain, and nobody is signed on in a new one", () => {
    const later = new Bench("c");
    const own = new OwnRecords([...bench.records, ...later.records]);
    expect(own.chain).toEqual(later.records);
    expect(own.signOn()).toBeUndefined();
    expect(own.gapAt).toBeUndefined();
  });
});

describe("the server's clock", () => {
  it("is unknown before any answer", () => {
    expect(new ServerClock().skew(1000, 0)).toBeUndefined();
  });

  it("is taken at half the way there and back", () => {
    const clock = new ServerClock();
    clock.hear(50_000, { sent: 100, came: 300 });
    expect(clock.skew(49_000, 300)).toBe(1100);
  });

  it("goes on by the steady clock when the device's own is put forward", () => {
    const clock = new ServerClock();
    clock.hear(50_000, { sent: 100, came: 100 });
    const aDay = 86_400_000;
    expect(clock.skew(50_000 + 500 + aDay, 600)).toBe(-aDay);
  });

  it("says what time it is by the server, whatever the device's own clock shows", () => {
    const clock = new ServerClock();
    expect(clock.time(7_000, 0)).toBe(7_000);
    clock.hear(50_000, { sent: 0, came: 0 });
    const [inTwoHours, yesterday] = [7_200_000, -86_400_000];
    expect([inTwoHours, yesterday].map((wrong) => clock.time(50_500 + wrong, 500))).toEqual([50_500, 50_500]);
  });

  it("hazard_D15 puts taps before, during and after a step of the device's clock where they were, one second apart", () => {
    const clock = new ServerClock();
    clock.hear(50_000, { sent: 0, came: 0 });
    const aDay = 86_400_000;
    const taps = [
      { made_at: 51_000, steady: 1000 },
      { made_at: 52_000 + aDay, steady: 2000 },
      { made_at: 53_000, steady: 3000 },
    ].map(({ made_at, steady }) => {
      const skew_ms = clock.skew(made_at, steady);
      return foundAt(skew_ms === undefined ? { made_at } : { made_at, skew_ms });
    });
    expect(taps).toEqual([
      [51_000, false],
      [52_000, true],
      [53_000, false],
    ]);
  });

  it("that was not heard since the start leaves the time of a tap doubtful", () => {
    vi.useFakeTimers({ now: 51_000 });
    const draft = { kind: "chain_opened", v: 1, body: { why: "first" } } as const;
    const { made_at, skew_ms } = stampOf(draft, new ServerClock(), undefined);
    vi.useRealTimers();
    expect(skew_ms).toBeUndefined();
    expect(foundAt({ made_at })).toEqual([51_000, true]);
  });
});

describe("the time zone of a stamp", () => {
  const draft = { kind: "chain_opened", v: 1, body: { why: "first" } } as const;
  const stampAt = (now: number): string => {
    vi.setSystemTime(now);
    return stampOf(draft, new ServerClock(), undefined).time_zone;
  };
  const deviceIsIn = (timeZone: string, minutesWest: number): void => {
    vi.spyOn(Intl.DateTimeFormat.prototype, "resolvedOptions").mockReturnValue({
      timeZone,
    } as Intl.ResolvedDateTimeFormatOptions);
    vi.spyOn(Date.prototype, "getTimezoneOffset").mockReturnValue(minutesWest);
  };

  afterEach(() => {
    vi.restoreAllMocks();
    vi.useRealTimers();
  });

  it("is the device's, and another at once when its clock shows another offset", () => {
    vi.useFakeTimers({ toFake: ["Date"] });
    deviceIsIn("Asia/Tokyo", -540);
    expect(stampAt(1_000_000_000_000)).toBe("Asia/Tokyo");
    deviceIsIn("Europe/Lisbon", 0);
    expect(stampAt(1_000_000_001_000)).toBe("Europe/Lisbon");
  });

  it("is asked for again within the hour, and when the clock goes back", () => {
    vi.useFakeTimers({ toFake: ["Date"] });
    deviceIsIn("Europe/Berlin", -60);
    expect(stampAt(1_100_000_000_000)).toBe("Europe/Berlin");
    deviceIsIn("Europe/Oslo", -60);
    expect(stampAt(1_100_003_600_000)).toBe("Europe/Oslo");
    deviceIsIn("Europe/Rome", -60);
    expect(stampAt(1_000_000_000_000)).toBe("Europe/Rome");
  });

  it("is unknown where the browser knows none", () => {
    vi.useFakeTimers({ toFake: ["Date"] });
    deviceIsIn("", -345);
    expect(stampAt(1_200_000_000_000)).toBe("Etc/Unknown");
  });
});

describe("the device's signature", () => {
  it("is the 64 bytes r and s over the end of the run, and verifies with the public key", async () => {
    const keys = await makeKeys();
    const signature = await signRun(keys, "chain", 7, "hash");
    const bytes = Uint8Array.from(atob(signature), (letter) => letter.charCodeAt(0));
    expect(bytes).toHaveLength(64);
    const text = new TextEncoder().encode("tallywright-run-1|chain|7|hash");
    const algorithm = { name: "ECDSA", hash: "SHA-256" };
    expect(await crypto.subtle.verify(algorithm, keys.publicKey, bytes, text)).toBe(true);
    expect(await publicText(keys)).toMatch(/^[A-Za-z0-9+/]{80,400}={0,2}$/);
  });

  it("comes from a key that no script can read", async () => {
    const keys = await makeKeys();
    await expect(crypto.subtle.exportKey("pkcs8", keys.privateKey)).rejects.toThrow();
  });
});

describe("an answer that brought nothing", () => {
  it.each([
    [{ sort: "no_answer" } as const, "no_answer"],
    [{ sort: "not_ours", status: 200 } as const, "not_ours"],
    [{ sort: "not_ours", status: 413 } as const, "too_much"],
    [{ sort: "refused", status: 413, code: "too-much", retry: true } as const, "too_much"],
    [{ sort: "refused", status: 401, code: "not-enrolled", retry: false } as const, "session"],
    [{ sort: "refused", status: 503, code: "not-ready", retry: true } as const, "busy"],
    [{ sort: "refused", status: 503, code: "not-writable", retry: true } as const, "cannot_write"],
    [{ sort: "refused", status: 507, code: "store-full", retry: true } as const, "cannot_write"],
    [{ sort: "refused", status: 400, code: "request-not-understood", retry: false } as const, "refused"],
  ])("%o means %s", (answer, meaning) => {
    expect(failureOf(answer)).toBe(meaning);
  });
});
