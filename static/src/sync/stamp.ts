// SPDX-License-Identifier: Apache-2.0
import type { Stamp } from "../records/compose.js";
import type { Draft } from "../records/kinds.js";
import type { ServerClock } from "./server_clock.js";

const UNKNOWN_ZONE = "Etc/Unknown";
const HOUR_MS = 3_600_000;

/** The device's time zone, and up to when and at which offset it is taken for that. */
let zone = { name: UNKNOWN_ZONE, upTo: 0, offset_min: 0 };

/** What the clocks and the present sign-on say at this moment. */
export function stampOf(draft: Draft, clock: ServerClock, signOn: string | undefined): Stamp {
  const now = new Date();
  const made_at = now.getTime();
  const offset_min = -now.getTimezoneOffset();
  return {
    made_at,
    offset_min,
    time_zone: zoneAt(made_at, offset_min),
    skew_ms: clock.skew(made_at, performance.now()),
    // Nobody is signed on in a chain that is only being opened.
    sign_on: draft.kind === "chain_opened" ? undefined : signOn,
  };
}

/** To ask for the zone takes longer than all else of a stamp: it is asked for again when it may be another. */
function zoneAt(made_at: number, offset_min: number): string {
  if (made_at >= zone.upTo || made_at < zone.upTo - HOUR_MS || offset_min !== zone.offset_min) {
    // Some browsers do not know their zone; the offset is there all the same.
    const name = Intl.DateTimeFormat().resolvedOptions().timeZone || UNKNOWN_ZONE;
    zone = { name, upTo: made_at + HOUR_MS, offset_min };
  }
  return zone.name;
}
