// SPDX-License-Identifier: Apache-2.0
import { signal } from "@preact/signals";
import { describe, expect, test, vi } from "vitest";
import { TallySession } from "../../../static/src/bench/tally_session.js";
import { Gathered } from "../../../static/src/folds/gathered.js";
import { foldTally } from "../../../static/src/folds/tally.js";
import type { Draft, ReadRecord } from "../../../static/src/records/kinds.js";
import type { Stored } from "../../../static/src/sync/contract.js";
import { offerFor, type Offer } from "../../../static/src/bench/verdict_offer.js";
import { BATCH, DEFINITION, foldHere, PART, record, SIGN_ON, TRAY } from "./demo_words.js";

type Keeping = "stored" | "kept" | "lost" | "late" | "silent";

/**
 * A store in memory that can be told to refuse; `late` makes the record but gives up waiting for it, `silent` does not
 * answer at all.
 */
class Keeper {
  readonly records = signal<readonly ReadRecord[]>([]);
  readonly signOn = signal<{ id: string; person: string } | undefined>({
    id: SIGN_ON,
    person: "p",
  });
  keeping: Keeping = "stored";
  private n = 10;

  add(draft: Draft): Promise<Stored> {
    if (this.keeping === "lost") return Promise.resolve({ stored: false, why: "full" });
    if (this.keeping === "silent") return new Promise(() => undefined);
    const made = record(this.n, draft.kind, draft.body as never);
    this.n += 1;
    this.records.value = [...this.records.value, made];
    if (this.keeping === "stored") return Promise.resolve({ stored: true, record: made });
    return Promise.resolve({
      stored: false,
      why: "late",
      kept: this.keeping === "kept",
    });
  }

  bodies(): unknown[] {
    return this.records.value.map((one) => one.known?.body);
  }

  counted(): number {
    const tally = foldTally(new Gathered(this.records.value), new Map([[PART, DEFINITION]]));
    return tally.marks.filter((mark) => !mark.quick_repeat).length;
  }
}

function open(): { keeper: Keeper; session: TallySession } {
  const keeper = new Keeper();
  const bench = {
    batch: BATCH,
    definitionId: PART,
    definition: DEFINITION,
    look: "first",
    tray: TRAY,
  };
  return { keeper, session: new TallySession(keeper, bench) };
}

describe("a press", () => {
  test("is called stored only after the store said so", async () => {
    const { session } = open();
    session.press("lap", 1000);
    expect(session.last.value).toBeUndefined();
    await session.settled();
    expect(session.last.value?.fate).toBe("stored");
  });

  test("says that it is being stored when the store takes its time", async () => {
    vi.useFakeTimers();
    try {
      const { keeper, session } = open();
      session.press("burn", 0);
      await session.settled();
      keeper.keeping = "silent";
      session.press("lap", 1000);
      await vi.advanceTimersByTimeAsync(99);
      expect(session.last.value).toMatchObject({ fate: "stored", entry: { find: { defect: "burn" } } });
      await vi.advanceTimersByTimeAsync(1);
      expect(session.last.value).toMatchObject({ fate: "storing", entry: { find: { defect: "lap" } } });
    } finally {
      vi.useRealTimers();
    }
  });

  test("is told of with its own fate when a rest of the eyes is recorded behind it", async () => {
    const { session } = open();
    session.press("lap", 1000);
    session.rested();
    await session.settled();
    expect(session.last.value).toMatchObject({ fate: "stored", entry: { find: { defect: "lap" } } });
  });

  test("repeated within a moment is kept, flagged, and not counted", async () => {
    const { keeper, session } = open();
    session.press("lap", 1000);
    session.press("lap", 1200);
    await session.settled();
    expect(keeper.bodies()).toHaveLength(2);
    expect(keeper.bodies()[1]).toMatchObject({
      defect: "lap",
      quick_repeat: true,
    });
    expect(keeper.counted()).toBe(1);
  });

  test("repeated later is a second find", async () => {
    const { keeper, session } = open();
    session.press("lap", 1000);
    session.press("lap", 1300);
    await session.settled();
    expect(keeper.counted()).toBe(2);
  });
});

describe("a word whose class the zone decides", () => {
  test("is recorded with the zone, by one more tap", async () => {
    const { keeper, session } = open();
    session.press("scratch", 1000);
    expect(keeper.bodies()).toEqual([]);
    session.answer("flank");
    await session.settled();
    expect(keeper.bodies()).toMatchObject([{ defect: "scratch", zone: "flank" }]);
  });

  test("gives way to the next find and is taken without a zone", async () => {
    const { keeper, session } = open();
    session.press("scratch", 1000);
    session.press("lap", 2000);
    await session.settled();
    expect(keeper.bodies()).toMatchObject([{ defect: "scratch" }, { defect: "lap" }]);
    expect(keeper.bodies()[0]).not.toHaveProperty("zone");
  });

  test("keeps an echo that came before its zone", async () => {
    const { keeper, session } = open();
    session.press("scratch", 1000);
    session.press("scratch", 1100);
    session.answer("flank");
    await session.settled();
    expect(keeper.bodies()).toMatchObject([{ zone: "flank" }, { zone: "flank", quick_repeat: true }]);
  });

  test("is dropped by undo before anything was recorded", async () => {
    const { keeper, session } = open();
    session.press("scratch", 1000);
    session.undo(2000);
    await session.settled();
    expect(keeper.bodies()).toEqual([]);
  });
});

describe("undo", () => {
  test("adds a withdrawal of the last find", async () => {
    const { keeper, session } = open();
    session.press("lap", 1000);
    await session.settled();
    session.undo(2000);
    await session.settled();
    expect(keeper.bodies()[1]).toEqual({
      look: "first",
      record: keeper.records.value[0]?.id,
    });
    expect(keeper.counted()).toBe(0);
  });

  test("pressed twice before the store answered takes back two different finds", async () => {
    const { keeper, session } = open();
    session.press("lap", 1000);
    session.press("underfill", 2000);
    await session.settled();
    session.undo(3000);
    session.undo(3400);
    await session.settled();
    expect(keeper.counted()).toBe(0);
    expect(keeper.bodies()).toHaveLength(4);
  });

  test("takes back one find when the finger bounces", async () => {
    const { keeper, session } = open();
    session.press("lap", 1000);
    session.press("underfill", 2000);
    await session.settled();
    session.undo(3000);
    session.undo(3100);
    await session.settled();
    expect(keeper.counted()).toBe(1);
  });
});

describe("the same piece", () => {
  test("takes the next find and no further one", async () => {
    const { keeper, session } = open();
    session.press("lap", 1000);
    await session.settled();
    session.samePiece.value = true;
    session.press("underfill", 2000);
    session.press("staining", 3000);
    await session.settled();
    const [first, second, third] = keeper.bodies();
    expect(second).toMatchObject({ piece: keeper.records.value[0]?.id });
    expect([first, third].some((body) => Object.hasOwn(body as object, "piece"))).toBe(false);
  });
});

describe("the piece in hand", () => {
  test("is the one of the last find, once that is stored", async () => {
    const { keeper, session } = open();
    session.press("lap", 1000);
    expect(session.pieceInHand()).toBeUndefined();
    await session.settled();
    expect(session.pieceInHand()).toBe(keeper.records.value[0]?.id);
  });

  test("is nobody's any more once its find was taken back", async () => {
    const { session } = open();
    session.press("lap", 1000);
    session.press("staining", 2000);
    await session.settled();
    session.undo(3000);
    await session.settled();
    expect(session.pieceInHand()).toBeUndefined();
  });

  test("is that of the first tap where a second came within a moment", async () => {
    const { keeper, session } = open();
    session.press("staining", 1000);
    session.press("staining", 1100);
    await session.settled();
    expect(session.pieceInHand()).toBe(keeper.records.value[0]?.id);
  });

  test("is known again behind a restart", async () => {
    const { keeper, session } = open();
    session.press("staining", 1000);
    await session.settled();
    const again = new TallySession(keeper, session.bench);
    expect(again.pieceInHand()).toBe(keeper.records.value[0]?.id);
  });
});

describe("a verdict", () => {
  const offered = (keeper: Keeper, session: TallySession): Offer => {
    const piece = session.pieceInHand() ?? "";
    const offer = offerFor(foldHere(keeper.records.value), DEFINITION, "first", piece, SIGN_ON);
    if (offer === undefined) throw new Error("no verdict is open");
    return offer;
  };

  test("names the minor marks of the piece, and the piece is accepted", async () => {
    const { keeper, session } = open();
    session.press("staining", 1000);
    await session.settled();
    const offer = offered(keeper, session);
    session.judge(offer, "accept", 2000);
    await session.settled();
    const piece = keeper.records.value[0]?.id;
    expect(keeper.bodies()[1]).toEqual({ look: "first", piece, verdict: "accept", settles: [piece] });
    expect(foldHere(keeper.records.value).verdicts[0]?.verdict).toBe("accept");
  });

  test("is given once when the finger bounces", async () => {
    const { keeper, session } = open();
    session.press("staining", 1000);
    await session.settled();
    const offer = offered(keeper, session);
    session.judge(offer, "rework", 2000);
    session.judge(offer, "rework", 2100);
    await session.settled();
    expect(keeper.bodies()).toHaveLength(2);
  });

  test("is taken back by undo before its find is, and can be given anew", async () => {
    const { keeper, session } = open();
    session.press("staining", 1000);
    await session.settled();
    session.judge(offered(keeper, session), "rework", 2000);
    await session.settled();
    session.undo(3000);
    await session.settled();
    expect(foldHere(keeper.records.value).verdicts[0]?.verdict).toBe("reject");
    session.judge(offered(keeper, session), "accept", 4000);
    await session.settled();
    expect(foldHere(keeper.records.value).verdicts[0]?.verdict).toBe("accept");
  });
});

describe("a cavity", () => {
  test("is not said until somebody chooses it, and then kept for what follows", async () => {
    const { keeper, session } = open();
    session.press("lap", 1000);
    session.cavity.value = "B";
    session.press("underfill", 2000);
    session.press("staining", 3000);
    session.cavity.value = undefined;
    session.press("rub", 4000);
    await session.settled();
    const said = keeper.bodies().map((body) => (body as { cavity?: string }).cavity);
    expect(said).toEqual([undefined, "B", "B", undefined]);
  });

  test("stays with a second tap that was said to be two", async () => {
    const { keeper, session } = open();
    session.cavity.value = "A";
    session.press("lap", 1000);
    session.press("lap", 1100);
    await session.settled();
    const tally = foldTally(new Gathered(keeper.records.value), new Map([[PART, DEFINITION]]));
    const repeat = tally.marks.find((one) => one.quick_repeat);
    if (repeat === undefined) throw new Error("no second tap was kept");
    session.sayHowMany(repeat, 2);
    await session.settled();
    expect(keeper.bodies()[2]).toMatchObject({ defect: "lap", cavity: "A" });
  });
});

describe("leaving and resting", () => {
  test("are recorded in their order, with the place that was looked at last", async () => {
    const { keeper, session } = open();
    session.rested();
    expect(await session.leave(24)).toBe(true);
    expect(keeper.records.value.map(({ kind }) => kind)).toEqual(["break_taken", "handover_given"]);
    expect(keeper.bodies()[1]).toEqual({ look: "first", tray: TRAY, place: 24 });
  });

  test("a tray is not left as long as the store does not hold", async () => {
    const { keeper, session } = open();
    keeper.keeping = "lost";
    expect(await session.leave(24)).toBe(false);
    expect(session.unstored.value.map(({ entry }) => entry.act)).toEqual(["leave"]);
  });
});

describe("what is not stored", () => {
  test("stays, in order, with what was pressed behind it, and stops the keys", async () => {
    const { keeper, session } = open();
    keeper.keeping = "lost";
    session.press("lap", 1000);
    session.press("underfill", 2000);
    await session.settled();
    expect(session.unstored.value.map(({ entry }) => entry.draft.body)).toMatchObject([
      { defect: "lap" },
      { defect: "underfill" },
    ]);
    session.press("staining", 3000);
    await session.settled();
    expect(session.unstored.value).toHaveLength(2);
  });

  test("is recorded once each when the store takes it again", async () => {
    const { keeper, session } = open();
    keeper.keeping = "lost";
    session.press("lap", 1000);
    session.press("underfill", 2000);
    await session.settled();
    keeper.keeping = "stored";
    session.tryAgain();
    await session.settled();
    expect(keeper.bodies()).toMatchObject([{ defect: "lap" }, { defect: "underfill" }]);
    expect(session.unstored.value).toEqual([]);
  });

  test("is not entered a second time when memory holds it", async () => {
    const { keeper, session } = open();
    keeper.keeping = "kept";
    session.press("lap", 1000);
    await session.settled();
    session.tryAgain();
    await session.settled();
    expect(keeper.counted()).toBe(1);
    expect(session.last.value?.fate).toBe("kept");
  });

  test("is not entered a second time when its record came to light later", async () => {
    const { keeper, session } = open();
    keeper.keeping = "late";
    session.press("lap", 1000);
    await session.settled();
    keeper.keeping = "stored";
    session.tryAgain();
    await session.settled();
    expect(keeper.counted()).toBe(1);
    expect(session.last.value?.fate).toBe("stored");
  });
});

describe("one or two", () => {
  const twice = async (): Promise<{
    keeper: Keeper;
    session: TallySession;
  }> => {
    const opened = open();
    opened.session.press("lap", 1000);
    opened.session.press("lap", 1100);
    await opened.session.settled();
    return opened;
  };
  const repeatOf = (keeper: Keeper) => {
    const tally = foldTally(new Gathered(keeper.records.value), new Map([[PART, DEFINITION]]));
    const mark = tally.marks.find((one) => one.quick_repeat);
    if (mark === undefined) throw new Error("no second tap was kept");
    return mark;
  };

  test("two counts the second tap once", async () => {
    const { keeper, session } = await twice();
    session.sayHowMany(repeatOf(keeper), 2);
    await session.settled();
    expect(keeper.counted()).toBe(2);
  });

  test("one leaves the count as it is", async () => {
    const { keeper, session } = await twice();
    session.sayHowMany(repeatOf(keeper), 1);
    await session.settled();
    expect(keeper.counted()).toBe(1);
  });

  test("an answered tap is not asked about again after a restart", async () => {
    const { keeper, session } = await twice();
    session.sayHowMany(repeatOf(keeper), 2);
    await session.settled();
    const tally = foldTally(new Gathered(keeper.records.value), new Map([[PART, DEFINITION]]));
    expect(tally.marks.filter((mark) => mark.quick_repeat)).toEqual([]);
  });
});
