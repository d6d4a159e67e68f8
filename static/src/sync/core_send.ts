// SPDX-License-Identifier: Apache-2.0
// The half of the core that sends: pushes, marks, and what becomes of a chain the server knows otherwise.
import { after, type Confirmed, type Copies, type Entry } from "../folds/copies.js";
import {
  ASK_HIDDEN_MS,
  hurry,
  pause,
  RESTING,
  type CoreEvent,
  type CoreState,
  type Effect,
  type Enclosed,
  type FormerChain,
  type UnderWay,
} from "./core_state.js";
import {
  hashAt,
  leftBehind,
  nextStretch,
  offeredAnew,
  safeBy,
  shrink,
  takeAnswer,
  takeMark,
  unsent,
  UNTIL_THROUGH,
  type Exception,
  type Sending,
  type Stretch,
} from "./outbox.js";

export function maySend(state: CoreState): boolean {
  return state.underWay === undefined && !state.isTurning;
}

/** What is pushed next: of the chain in use first, because the screens of others wait for it. */
export function nextPush(
  state: CoreState,
  now: number,
): (UnderWay & { readonly stretch: Stretch }) | undefined {
  for (const sending of [state.sending, ...state.former]) {
    const stretch = nextStretch(sending, now);
    if (stretch !== undefined) return { chain: sending.chain, stretch };
  }
  return undefined;
}

export function send(state: CoreState, event: CoreEvent, effects: Effect[]): CoreState {
  const next = state.asksMark ? undefined : nextPush(state, event.now);
  const enclosures = enclosedIn(state, next);
  const isJudgementDue = enclosures.length > 0 && event.now >= state.judging.due;
  if (next === undefined && !state.asksMark && !isJudgementDue) return state;
  const hasEnclosures = enclosures.length > 0;
  const judging = hasEnclosures ? pause(state.judging, event) : state.judging;
  if (next === undefined) {
    const chain = state.failed?.chain ?? state.sending.chain;
    effects.push({ effect: "ask_mark", chain, enclosures });
    return { ...state, judging, underWay: { chain, stretch: undefined, hasEnclosures } };
  }
  effects.push({ effect: "push", chain: next.chain, ...next.stretch, enclosures });
  return { ...state, judging, underWay: { ...next, hasEnclosures } };
}

/** The sign-ons whose sealed PINs travel with a push: those it covers, and those the server has and did not judge. */
function enclosedIn(state: CoreState, push: UnderWay | undefined): readonly string[] {
  const last = push?.stretch?.last ?? 0;
  const travels = ({ chain, n }: Enclosed): boolean =>
    (chain === push?.chain && n <= last) || (chain === state.sending.chain && n <= state.sending.confirmed);
  return state.enclosed.filter(travels).slice(0, MOST_ENCLOSURES).map(idOf);
}

/** When sealed PINs that wait for nothing but their judgement are sent again. */
export function judgementDue(state: CoreState): number {
  return enclosedIn(state, undefined).length === 0 ? Infinity : state.judging.due;
}

/** Sealed PINs that need travel no more: the server judged them, or has them of a chain that was left, or never will. */
export function forgotten(
  state: CoreState,
  isGone: (one: Enclosed) => boolean,
  effects: Effect[],
): CoreState {
  const gone = state.enclosed.filter(isGone);
  if (gone.length === 0) return state;
  effects.push({ effect: "forget", records: gone.map(idOf) });
  return { ...state, enclosed: state.enclosed.filter((one) => !gone.includes(one)), judging: RESTING };
}

/** Judgements are fetched for the chain in use only; of one that was left the server has what it answered for. */
export function isPastJudging(state: CoreState): (one: Enclosed) => boolean {
  return ({ chain, n }) => {
    const former = state.former.find((one) => one.chain === chain);
    if (former === undefined) return chain !== state.sending.chain;
    const { confirmed, held, isSendable } = former;
    return !isSendable || n <= confirmed || held.some(({ first, last }) => first <= n && n <= last);
  };
}

export function idOf({ chain, n }: Enclosed): string {
  return `${chain}:${n}`;
}

/**
 * What is known of a chain that was left behind. Of one whose key was lost just now that is what was known while it
 * was in use; one that forked is offered again, as `leftBehind` does.
 */
export function formerOf({ chain, base, own, isSendable }: FormerChain, copies: Copies): Sending {
  const last = copies.confirmed;
  const isLast = !isSendable && last !== undefined && isSaidOf(last, { chain, base, own });
  const said = copies.former[chain] ?? (isLast ? { ...last, held: [], epoch: copies.epoch } : undefined);
  const begun = { ...unsent(chain, own, base), isSendable };
  if (said === undefined) return begun;
  const { held, epoch } = said;
  const n = Math.max(said.n, base.n);
  // Nobody tries the way again with what no key signs; should another bring it, no answer would say so here.
  const isSaidStill = ({ code }: Exception): boolean => isSendable || !UNTIL_THROUGH.includes(code);
  const exceptions = said.exceptions.filter(isSaidStill);
  return { ...begun, confirmed: n, reached: n, held, exceptions, epoch };
}

/** How long a pull waits behind a push: one answers for all that somebody taps meanwhile. */
const PULL_BEHIND_MS = 1_000;
/** As many as the server judges at once. */
const MOST_ENCLOSURES = 20;

/** True when what was confirmed was of this chain, with the bytes we have. */
export function isSaidOf(said: Confirmed, sending: Pick<Sending, "chain" | "base" | "own">): boolean {
  if (said.chain !== undefined && said.chain !== sending.chain) return false;
  return (said.n === 0 && said.chain === sending.chain) || hashAt(sending, said.n) === said.hash;
}

export function turned(
  state: CoreState,
  event: CoreEvent & { event: "turned" },
  effects: Effect[],
): CoreState {
  // Before the start the store's own lines say which chains there are.
  if (!state.isStarted) return state;
  const left = leftBehind(state.sending);
  const next: CoreState = {
    ...state,
    sending: { ...unsent(event.chain, [event.own]), epoch: state.epoch },
    former: [...state.former, left],
    isTurning: false,
    asksMark: false,
    failed: undefined,
  };
  return hurry(keepFormer(next, left, effects), event.now, "send", "pull");
}

export function marked(
  state: CoreState,
  event: CoreEvent & { event: "marked" },
  effects: Effect[],
): CoreState {
  const chain = state.underWay?.chain ?? state.sending.chain;
  const sent = state.underWay?.stretch ?? (state.failed?.chain === chain ? state.failed.stretch : undefined);
  const marks = event.former ?? [];
  const former = state.former.map((one) => {
    const mark = marks.find((mark) => mark.chain === one.chain);
    return mark === undefined ? one : { ...one, safe: safeBy(one, mark) };
  });
  const before = [state.sending, ...former].find((one) => one.chain === chain);
  const isFormer = chain !== state.sending.chain;
  const heard = {
    ...state,
    former,
    epoch: event.mark.epoch,
    underWay: undefined,
    asksMark: false,
    failed: undefined,
    isHeard: true,
    // A bare question is answered by a server that cannot write, too.
    cannotWrite: state.cannotWrite && state.underWay?.stretch === undefined,
  };
  if (before === undefined) return heard;
  // The answer to a bare question says nothing of lines that were sent before it.
  const answered = state.underWay?.stretch;
  const { sending, isMoved } = isFormer
    ? takeAnswer(before, event.mark, answered)
    : takeMark(before, event.mark, sent, answered);
  const isNewEpoch = state.copies.epoch !== undefined && event.mark.epoch !== state.copies.epoch;
  const isElsewhere = (one: Sending): boolean => one.epoch !== undefined && one.epoch !== event.mark.epoch;
  // Whoever has just sent may have changed what others see, and wants to see what they did: soon, not behind each tap.
  const isAwaited = isNewEpoch || state.underWay?.hasEnclosures === true;
  const soon = isAwaited ? event.now : isMoved ? event.now + PULL_BEHIND_MS : Infinity;
  // What is in reach and cannot be fetched or kept all the same is tried again at its time, and no mark hurries it.
  const pullDue = state.isHeard && state.pull.failures > 0 ? Infinity : soon;
  const next: CoreState = {
    ...withSending(heard, sending),
    send: { ...RESTING, failures: isMoved ? 0 : state.send.failures },
    pull: { ...state.pull, due: Math.min(state.pull.due, pullDue) },
  };
  // A server that was put back may have lost what was answered for, whether it knows of that (an epoch) or not.
  const lost = new Set(event.lost);
  const less = next.former
    .filter((one) => one.isSendable && (lost.has(one.chain) || isElsewhere(one)))
    .map(offeredAnew);
  const offered = less.reduce((all, one) => keepFormer(withSending(all, one), one, effects), next);
  // A restored server may lack what was confirmed of the chain in use, too.
  const stood = isFormer && isElsewhere(state.sending) ? { ...offered, asksMark: true } : offered;
  const known = isFormer ? keepFormer(stood, sending, effects) : keepConfirmed(stood, effects);
  const kept = forgotten(known, isPastJudging(known), effects);
  if (sending.halted !== undefined) return turn(kept, sending.halted, event, effects);
  if (sent === undefined || isMoved) return kept;
  return shrunk(kept, { chain, stretch: sent }, event);
}

/** Open a new chain. Should that fail, the mark is asked for again after a while, and says the same. */
function turn(state: CoreState, why: "forked" | "behind", event: CoreEvent, effects: Effect[]): CoreState {
  effects.push({ effect: "open_chain", why });
  const send = { ...RESTING, due: event.now + ASK_HIDDEN_MS };
  return { ...state, isTurning: true, asksMark: true, send };
}

function sendingOf(state: CoreState, chain: string): Sending | undefined {
  return [state.sending, ...state.former].find((one) => one.chain === chain);
}

function withSending(state: CoreState, sending: Sending): CoreState {
  if (sending.chain === state.sending.chain) return { ...state, sending };
  return { ...state, former: state.former.map((one) => (one.chain === sending.chain ? sending : one)) };
}

/** Send less after a push that led to nothing; a single line that led to nothing is stepped over for a while. */
function shrunk(
  state: CoreState,
  { chain, stretch }: UnderWay & { readonly stretch: Stretch },
  event: CoreEvent,
): CoreState {
  const before = sendingOf(state, chain);
  if (before === undefined) return state;
  const next = withSending(state, shrink(before, stretch, event.now));
  const isSteppedOver = stretch.first === stretch.last;
  return { ...next, send: isSteppedOver ? pause(state.send, event) : { ...state.send, due: event.now } };
}

export function keepFormer(state: CoreState, sending: Sending, effects: Effect[]): CoreState {
  const { chain, confirmed: n, held, exceptions, epoch } = sending;
  const former = { n, held, exceptions, epoch };
  if (JSON.stringify(state.copies.former[chain]) === JSON.stringify(former)) return state;
  const entry: Entry = { entry: "former", chain, former };
  effects.push({ effect: "keep", entry, isAwaited: false });
  return { ...state, copies: after(state.copies, entry) };
}

function keepConfirmed(state: CoreState, effects: Effect[]): CoreState {
  const { chain, confirmed, exceptions } = state.sending;
  const said = state.copies.confirmed;
  if (said?.chain === chain && said.n === confirmed && said.exceptions === exceptions) return state;
  const entry: Entry = {
    entry: "confirmed",
    confirmed: { chain, n: confirmed, hash: hashAt(state.sending, confirmed) ?? "", exceptions },
  };
  effects.push({ effect: "keep", entry, isAwaited: false });
  return { ...state, copies: after(state.copies, entry) };
}

export function sendFailed(state: CoreState, event: CoreEvent & { event: "send_failed" }): CoreState {
  const sent = state.underWay;
  const next = { ...state, underWay: undefined };
  if (sent === undefined) return next;
  const { chain, stretch } = sent;
  if (stretch === undefined) {
    return { ...next, failed: undefined, isHeard: false, send: pause(state.send, event) };
  }
  if (event.why === "too_much") return shrunk({ ...next, isHeard: true }, { chain, stretch }, event);
  if (event.why === "busy" || event.why === "cannot_write") {
    const cannotWrite = event.why === "cannot_write";
    return { ...next, cannotWrite, isHeard: true, send: pause(state.send, event) };
  }
  const failed = { chain, stretch };
  return { ...next, failed, asksMark: true, isHeard: false, send: pause(state.send, event) };
}
