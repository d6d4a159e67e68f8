// SPDX-License-Identifier: Apache-2.0
import type { Stamp } from "../records/compose.js";
import type { Draft } from "../records/kinds.js";
import type { ServerClock } from "./server_clock.js";

const UNKNOWN_ZONE = "Etc/Unknown";

/** What the clocks and the present sign-on say at this moment. */
export function stampOf(draft: Draft, clock: ServerClock, signOn: string | undefined): Stamp {
  const now = new Date();
  const made_at = now.getTime();
  return {
    made_at,
    offset_min: -now.getTimezoneOffset(),
    // Some browsers do not know their zone; the offset is there all the same.
    time_zone: Intl.DateTimeFormat().resolvedOptions().timeZone || UNKNOWN_ZONE,
    skew_ms: clock.skew(made_at, performance.now()),
    // Nobody is signed on in a chain that is only being opened.
    sign_on: draft.kind === "chain_opened" ? undefined : signOn,
  };
}
