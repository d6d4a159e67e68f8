// SPDX-License-Identifier: Apache-2.0
// On every screen: how many records are stored here, sent, confirmed by the server, and how long the oldest waits.
import { signal } from "@preact/signals";
import type { SyncState } from "../sync/contract.js";
import { age } from "../words/measures.js";
import { say, type Key } from "../words/say.js";
import { syncLevel, type SyncLevel } from "./sync_level.js";

const TICK_MS = 10_000;
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
  none: "sync.contact.none",
  session_ended: "sync.contact.session_ended",
  forked: "sync.contact.forked",
  behind: "sync.contact.behind",
};

export function SyncWords({ state }: { readonly state: SyncState }) {
  const level = syncLevel(state, now.value);
  const waits = [
    ...(level === "calm" ? [] : [say(LEVEL_WORDS[level])]),
    ...(state.oldestAt === undefined
      ? state.pictures > 0
        ? []
        : [say("sync.nothing_waits")]
      : [say("sync.oldest", { age: age(now.value - state.oldestAt) })]),
    ...(state.stored > 0 ? [say("sync.stored", { count: state.stored })] : []),
    ...(state.sent > 0 ? [say("sync.sent", { count: state.sent })] : []),
    ...(state.pictures > 0 ? [say("sync.pictures", { count: state.pictures })] : []),
  ];
  const trouble = TROUBLE[state.contact];
  const there = [
    say("sync.confirmed", { count: state.confirmed }),
    ...(trouble === undefined ? [] : [say(trouble)]),
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
        <span class="line">{waits.join(" · ")}</span>
        <span class="line">{there.join(" · ")}</span>
      </span>
    </p>
  );
}
