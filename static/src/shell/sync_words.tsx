// SPDX-License-Identifier: Apache-2.0
// On every screen: how many records are stored here, sent, confirmed by the server, and how long the oldest waits.
import { signal } from "@preact/signals";
import type { SyncState } from "../sync/contract.js";
import { age, day } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import { NO_WAITING_MENDS, syncLevel, type SyncLevel } from "./sync_level.js";

const TICK_MS = 10_000;
const DAY_MS = 24 * 60 * 60 * 1000;
const WARN_MS = 30 * DAY_MS;
const now = signal(Date.now());
setInterval(() => {
  now.value = Date.now();
}, TICK_MS);

const LEVEL_WORDS: Readonly<Record<Exclude<SyncLevel, "calm">, Key>> = {
  late: "sync.level.late",
  very_late: "sync.level.very_late",
  trouble: "sync.level.trouble",
};
/** An empty bowl, a half filled one, a full one, a full one struck through. */
const SHAPES: Readonly<Record<SyncLevel, string>> = {
  calm: "",
  late: "M4 14H24A10 10 0 0 1 4 14Z",
  very_late: "M14 4A10 10 0 1 1 13.9 4Z",
  trouble: "M14 4A10 10 0 1 1 13.9 4Z",
};
const TROUBLE: Partial<Record<SyncState["contact"], Key>> = {
  cannot_write: "sync.contact.cannot_write",
  session_ended: "sync.contact.session_ended",
  forked: "sync.contact.forked",
  behind: "sync.contact.behind",
};

function troubleOf(contact: SyncState["contact"]): string | undefined {
  const key = TROUBLE[contact];
  return key === undefined ? undefined : say(key);
}

/**
 * Why the server is not reached, as far as it can be known: to a page every failed request looks the same, but the
 * browser says when it has no network at all, and the server said beforehand how long its certificate is good.
 */
function noContact(certificateEndsAt: number | undefined): string {
  if (!navigator.onLine) return say("sync.contact.no_network");
  if (certificateEndsAt !== undefined && certificateEndsAt < now.value) {
    return say("sync.contact.certificate_ended", { day: day(certificateEndsAt) });
  }
  return say("sync.contact.none");
}

/** For those who can have it renewed: that the certificate ends soon, or has ended. */
export function CertificateWords({ endsAt }: { readonly endsAt: number | undefined }) {
  if (endsAt === undefined || endsAt - now.value > WARN_MS) return null;
  const left = endsAt - now.value;
  return (
    <p class="update" role="status">
      {left <= 0
        ? say("certificate.ended", { day: day(endsAt) })
        : say("certificate.ends", { day: day(endsAt), days: Math.ceil(left / DAY_MS) })}
    </p>
  );
}

export function SyncWords({ state }: { readonly state: SyncState }) {
  const level = syncLevel(state, now.value);
  const urgency = level === "calm" ? [] : [say(LEVEL_WORDS[level])];
  const waits = [
    ...(state.oldestAt === undefined
      ? state.pictures > 0
        ? []
        : [say("sync.nothing_waits")]
      : [say("sync.oldest", { age: age(now.value - state.oldestAt) })]),
    ...(state.stored > 0 ? [say("sync.stored", { count: state.stored })] : []),
    ...(state.sent > 0 ? [say("sync.sent", { count: state.sent })] : []),
    ...(state.pictures > 0 ? [say("sync.pictures", { count: state.pictures })] : []),
  ];
  const trouble = state.contact === "none" ? noContact(state.certificateEndsAt) : troubleOf(state.contact);
  const says = trouble === undefined ? [] : [trouble];
  // Where the screen is narrow the end of a line is cut: what somebody has to do stands before all numbers.
  const isUrgent = NO_WAITING_MENDS.includes(state.contact);
  const there = [
    say("sync.confirmed", { count: state.confirmed }),
    ...(isUrgent ? [] : says),
    ...(state.exceptions.length === 0 ? [] : [say("sync.exceptions", { count: state.exceptions.length })]),
  ];
  return (
    <p class="sync" data-level={level}>
      <svg viewBox="0 0 28 28" aria-hidden="true">
        <path class="bowl" d="M14 4A10 10 0 1 1 13.9 4Z" />
        <path class="fill" d={SHAPES[level]} />
        {level === "trouble" && <path class="strike" d="M3 25L25 3" />}
      </svg>
      <span>
        <span class="line">{[...urgency, ...(isUrgent ? says : waits)].join(" · ")}</span>
        <span class="line">{[...(isUrgent ? waits : []), ...there].join(" · ")}</span>
      </span>
    </p>
  );
}
