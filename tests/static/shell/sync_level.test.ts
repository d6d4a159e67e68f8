// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from "vitest";
import { syncLevel } from "../../../static/src/shell/sync_level.js";
import type { SyncState } from "../../../static/src/sync/contract.js";

const MINUTE_MS = 60_000;
const NOW = 1_790_000_000_000;
const state = (more: Partial<SyncState>): SyncState => ({
  stored: 0,
  sent: 0,
  pictures: 0,
  confirmed: 10,
  oldestAt: undefined,
  contact: "server",
  certificateEndsAt: undefined,
  heardAt: NOW,
  exceptions: [],
  ...more,
});
const level = (more: Partial<SyncState>) => syncLevel(state(more), NOW);

describe("how urgent the sync words are", () => {
  test("hazard_A2_C8 half an hour is calm, longer is late, over eight hours very late", () => {
    expect(level({ oldestAt: NOW - 30 * MINUTE_MS })).toBe("calm");
    expect(level({ oldestAt: NOW - 30 * MINUTE_MS - 1 })).toBe("late");
    expect(level({ oldestAt: NOW - 480 * MINUTE_MS })).toBe("late");
    expect(level({ oldestAt: NOW - 480 * MINUTE_MS - 1 })).toBe("very_late");
  });

  test("two hundred waiting are calm, one more is late", () => {
    expect(level({ stored: 150, sent: 50 })).toBe("calm");
    expect(level({ stored: 151, sent: 50 })).toBe("late");
  });

  test("no contact alone is no alarm", () => {
    expect(level({ contact: "none" })).toBe("calm");
  });

  test("a copied store, an older store and records set aside are trouble at once", () => {
    expect(level({ contact: "forked" })).toBe("trouble");
    expect(level({ contact: "behind" })).toBe("trouble");
    expect(level({ contact: "cannot_write" })).toBe("trouble");
    expect(level({ exceptions: [{ n: 3, code: "unvouched" }] })).toBe("trouble");
  });
});
