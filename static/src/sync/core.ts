// SPDX-License-Identifier: Apache-2.0
// What the tablet does next about sync: (state, event) -> (state, effects). It knows no clock, no chance and no
// network: events bring the time and a random number, and whoever carries out the effects answers with events.
//
// One request to send (a push, or a question for the mark) and one pull are under way at most. After a send that
// failed the mark is asked for first: where the question comes through, it was the push that the way refused, and
// less is sent; where it does not, there is no contact, and nothing is concluded about the records.
import { after, type BatchList, type Copies, type Entry, type Page, type Pair } from "../folds/copies.js";
import {
  asideUntil,
  MOST_LINES,
  nextStretch,
  shrink,
  takeMark,
  type Mark,
  type Own,
  type Sending,
  type Stretch,
} from "./outbox.js";

export type { Mark, Own, Stretch } from "./outbox.js";

/**
 * Why a request brought nothing: nobody answered; somebody else did; it was too much; the session ended; the
 * server cannot just now; it refused.
 */
export type Failure = "no_answer" | "not_ours" | "too_much" | "session" | "busy" | "refused";

export interface CoreState {
  readonly sending: Sending;
  /** The epoch of the last mark: a page of another one says that the server was restored since. */
  readonly epoch: string | undefined;
  readonly copies: Copies;
  /** The send under way: a stretch, or the bare question for the mark. */
  readonly underWay: Stretch | "mark" | undefined;
  /** True when the mark is to be asked for before anything is pushed. */
  readonly asksMark: boolean;
  /** A push that failed, until it is known whether the way refused it. */
  readonly failed: Stretch | undefined;
  readonly send: Lane;
  readonly pull: Lane;
  readonly list: Lane;
  /** What is being kept; the cursor moves when it is safe. */
  readonly keeping: Entry | undefined;
  readonly session: "live" | "renewing" | "ended";
  readonly isVisible: boolean;
  /** True when the last answer that was waited for came, and was the server's. */
  readonly isHeard: boolean;
  readonly isStarted: boolean;
}

/** One kind of request: whether it is under way, how often it failed in a row, when it is due. */
interface Lane {
  readonly isUnderWay: boolean;
  readonly failures: number;
  readonly due: number;
}

/** `now` is any steady clock [ms]; `chance` is from 0 up to 1. */
export type CoreEvent = { readonly now: number; readonly chance: number } & (
  | { readonly event: "started"; readonly own: readonly Own[]; readonly copies: Copies }
  | { readonly event: "saved"; readonly own: Own }
  | { readonly event: "tick" }
  | { readonly event: "online" }
  | { readonly event: "visible"; readonly isVisible: boolean }
  | { readonly event: "taken_up"; readonly pair: Pair }
  | { readonly event: "marked"; readonly mark: Mark }
  | { readonly event: "send_failed"; readonly why: Failure }
  | { readonly event: "pulled"; readonly page: Page }
  | { readonly event: "cursor_void" }
  | { readonly event: "pull_failed"; readonly why: Failure }
  | { readonly event: "kept"; readonly isSafe: boolean }
  | { readonly event: "renewed" }
  | { readonly event: "not_renewed"; readonly why: Failure }
  | { readonly event: "listed"; readonly batches: BatchList }
  | { readonly event: "list_failed"; readonly why: Failure }
);

export type Effect =
  | { readonly effect: "push"; readonly first: number; readonly last: number }
  | { readonly effect: "ask_mark" }
  | { readonly effect: "pull"; readonly after: string | undefined; readonly carry: Copies["pairs"] }
  /** `isAwaited`: a `kept` event must follow; the others are facts that may be lost and learnt again. */
  | { readonly effect: "keep"; readonly entry: Entry; readonly isAwaited: boolean }
  | { readonly effect: "renew_session" }
  | { readonly effect: "list_batches" };

export interface Step {
  readonly state: CoreState;
  readonly effects: readonly Effect[];
}

const ASK_VISIBLE_MS = 5_000;
const ASK_HIDDEN_MS = 60_000;
const LIST_MS = 60_000;
const FIRST_PAUSE_MS = 1_000;
const LONGEST_PAUSE_MS = 60_000;

const RESTING: Lane = { isUnderWay: false, failures: 0, due: 0 };

export function beginning(copies: Copies): CoreState {
  return {
    sending: {
      own: [],
      confirmed: 0,
      reached: 0,
      held: [],
      halted: undefined,
      most: MOST_LINES,
      aside: {},
      exceptions: [],
    },
    epoch: undefined,
    copies,
    underWay: undefined,
    asksMark: true,
    failed: undefined,
    send: RESTING,
    pull: RESTING,
    list: RESTING,
    keeping: undefined,
    session: "live",
    isVisible: true,
    isHeard: false,
    isStarted: false,
  };
}

export function step(before: CoreState, event: CoreEvent): Step {
  const effects: Effect[] = [];
  const state = decide(learn(before, event, effects), event, effects);
  return { state, effects };
}

/** When something is due next, on the clock of the events; Infinity while all waits for answers. */
export function dueNext(state: CoreState, now: number): number {
  const due: number[] = [];
  if (state.underWay === undefined) {
    const isReady = state.asksMark || nextStretch(state.sending, now) !== undefined;
    due.push(isReady ? state.send.due : Math.max(state.send.due, asideUntil(state.sending)));
  }
  if (mayPull(state)) due.push(state.pull.due);
  if (mayList(state)) due.push(state.list.due);
  return Math.min(Infinity, ...due);
}

function mayPull(state: CoreState): boolean {
  return state.session !== "renewing" && !state.pull.isUnderWay && state.keeping === undefined;
}

function mayList(state: CoreState): boolean {
  return state.session === "live" && !state.list.isUnderWay;
}

/** What the event says, written into the state. */
function learn(state: CoreState, event: CoreEvent, effects: Effect[]): CoreState {
  const { now } = event;
  switch (event.event) {
    case "started":
      return started(state, event, effects);
    case "saved":
      return hurry(
        { ...state, sending: { ...state.sending, own: [...state.sending.own, event.own] } },
        now,
        "send",
      );
    case "tick":
      return state;
    case "online":
      return hurry(state, now, "send", "pull", "list");
    case "visible":
      return event.isVisible
        ? hurry({ ...state, isVisible: true }, now, "send", "pull", "list")
        : { ...state, isVisible: false };
    case "taken_up":
      return takenUp(state, event.pair, now, effects);
    case "marked":
      return marked(state, event, effects);
    case "send_failed":
      return sendFailed(state, event);
    case "pulled":
      return pulled(state, event.page, effects);
    case "cursor_void":
      return keep({ ...state, asksMark: true, isHeard: true }, { entry: "rolled_back" }, effects);
    case "pull_failed":
      return failedLane(state, "pull", event, effects);
    case "kept":
      return kept(state, event);
    case "renewed":
      return hurry({ ...state, session: "live", isHeard: true }, now, "pull", "list");
    case "not_renewed":
      return notRenewed(state, event);
    case "listed":
      return listed(state, event.batches, event, effects);
    case "list_failed":
      return failedLane(state, "list", event, effects);
  }
}

/** Start every request that is due. */
function decide(state: CoreState, event: CoreEvent, effects: Effect[]): CoreState {
  if (!state.isStarted) return state;
  let next = state;
  const { now } = event;
  if (next.underWay === undefined && now >= next.send.due) {
    const stretch = nextStretch(next.sending, now);
    if (next.asksMark) {
      effects.push({ effect: "ask_mark" });
      next = { ...next, underWay: "mark" };
    } else if (stretch !== undefined) {
      effects.push({ effect: "push", ...stretch });
      next = { ...next, underWay: stretch };
    }
  }
  if (mayPull(next) && now >= next.pull.due) {
    effects.push({ effect: "pull", after: next.copies.cursor, carry: next.copies.pairs });
    next = { ...next, pull: { ...next.pull, isUnderWay: true } };
  }
  if (mayList(next) && now >= next.list.due) {
    effects.push({ effect: "list_batches" });
    next = { ...next, list: { ...next.list, isUnderWay: true } };
  }
  return next;
}

function started(state: CoreState, event: CoreEvent & { event: "started" }, effects: Effect[]): CoreState {
  const { own, copies } = event;
  const said = copies.confirmed;
  const isOurs = said !== undefined && own[said.n - 1]?.hash === said.hash;
  const confirmed = isOurs ? said.n : 0;
  const begun: CoreState = {
    ...state,
    sending: { ...state.sending, own, confirmed, reached: confirmed, exceptions: said?.exceptions ?? [] },
    copies,
    isStarted: true,
  };
  // A pair may have been taken up before the store could say what it holds.
  const early = Object.keys(state.copies.pairs).filter((pair) => !(pair in copies.pairs));
  return early.reduce((next, pair) => takenUp(next, pair, event.now, effects), begun);
}

function takenUp(state: CoreState, pair: Pair, now: number, effects: Effect[]): CoreState {
  if (Object.keys(state.copies.pairs).at(-1) === pair) return state;
  const entry: Entry = { entry: "taken_up", pair };
  effects.push({ effect: "keep", entry, isAwaited: false });
  return hurry({ ...state, copies: after(state.copies, entry) }, now, "pull");
}

function marked(state: CoreState, event: CoreEvent & { event: "marked" }, effects: Effect[]): CoreState {
  const sent = state.underWay === "mark" ? state.failed : state.underWay;
  const { sending, isMoved } = takeMark(state.sending, event.mark, sent);
  const isNewEpoch = state.copies.epoch !== undefined && event.mark.epoch !== state.copies.epoch;
  const next: CoreState = {
    ...state,
    sending,
    epoch: event.mark.epoch,
    underWay: undefined,
    asksMark: sending.halted !== undefined,
    failed: undefined,
    isHeard: true,
    send: { ...RESTING, failures: isMoved ? 0 : state.send.failures },
    // Whoever has just sent may have changed what others see, and wants to see what they did.
    pull: isNewEpoch || isMoved ? { ...state.pull, due: Math.min(state.pull.due, event.now) } : state.pull,
  };
  const kept = keepConfirmed(next, effects);
  if (sending.halted !== undefined) return { ...kept, send: { ...RESTING, due: event.now + ASK_HIDDEN_MS } };
  if (sent === undefined || isMoved) return kept;
  return shrunk(kept, sent, event);
}

/** Send less after a push that led to nothing; a single line that led to nothing is stepped over for a while. */
function shrunk(state: CoreState, sent: Stretch, event: CoreEvent): CoreState {
  const sending = shrink(state.sending, sent, event.now);
  const isSteppedOver = sent.first === sent.last;
  return isSteppedOver
    ? { ...state, sending, send: pause(state.send, event) }
    : { ...state, sending, send: { ...state.send, due: event.now } };
}

function keepConfirmed(state: CoreState, effects: Effect[]): CoreState {
  const { own, confirmed, exceptions } = state.sending;
  const said = state.copies.confirmed;
  if (said?.n === confirmed && said.exceptions === exceptions) return state;
  const entry: Entry = {
    entry: "confirmed",
    confirmed: { n: confirmed, hash: own[confirmed - 1]?.hash ?? "", exceptions },
  };
  effects.push({ effect: "keep", entry, isAwaited: false });
  return { ...state, copies: after(state.copies, entry) };
}

function sendFailed(state: CoreState, event: CoreEvent & { event: "send_failed" }): CoreState {
  const sent = state.underWay;
  const next = { ...state, underWay: undefined };
  if (sent === undefined) return next;
  if (sent === "mark") return { ...next, failed: undefined, isHeard: false, send: pause(state.send, event) };
  if (event.why === "too_much") return shrunk({ ...next, isHeard: true }, sent, event);
  if (event.why === "busy") return { ...next, isHeard: true, send: pause(state.send, event) };
  return { ...next, failed: sent, asksMark: true, isHeard: false, send: pause(state.send, event) };
}

function pulled(state: CoreState, page: Page, effects: Effect[]): CoreState {
  if (!state.pull.isUnderWay) return state;
  const isRestored = state.epoch !== undefined && page.epoch !== state.epoch;
  const next = { ...state, isHeard: true, asksMark: state.asksMark || isRestored };
  return keep(next, { entry: "page", page }, effects);
}

function keep(state: CoreState, entry: Entry, effects: Effect[]): CoreState {
  effects.push({ effect: "keep", entry, isAwaited: true });
  return { ...state, keeping: entry, pull: { ...state.pull, isUnderWay: false } };
}

function kept(state: CoreState, event: CoreEvent & { event: "kept" }): CoreState {
  const entry = state.keeping;
  if (entry === undefined) return state;
  const next = { ...state, keeping: undefined };
  if (!event.isSafe) return { ...next, pull: pause(state.pull, event) };
  const copies = after(state.copies, entry);
  const goesOn =
    entry.entry !== "page" || entry.page.more || Object.values(copies.pairs).some((pair) => !pair.whole);
  const hasNews = entry.entry === "page" && entry.page.lines.length > 0;
  return {
    ...next,
    copies,
    session: "live",
    pull: { ...RESTING, due: goesOn ? event.now : event.now + askEvery(state, event) },
    list: hasNews ? { ...state.list, due: event.now } : state.list,
  };
}

function listed(state: CoreState, batches: BatchList, event: CoreEvent, effects: Effect[]): CoreState {
  const next = { ...state, isHeard: true, list: { ...RESTING, due: event.now + LIST_MS } };
  const entry: Entry = { entry: "batches", batches };
  const isSame = JSON.stringify(state.copies.batches?.lines) === JSON.stringify(batches.lines);
  // The date of a list that did not change is worth showing, not worth a line in the file.
  if (!isSame) effects.push({ effect: "keep", entry, isAwaited: false });
  return { ...next, copies: after(state.copies, entry) };
}

function failedLane(
  state: CoreState,
  name: "pull" | "list",
  event: CoreEvent & { readonly why: Failure },
  effects: Effect[],
): CoreState {
  const lane = { ...pause(state[name], event), isUnderWay: false };
  const next = { ...state, [name]: lane };
  if (event.why !== "session")
    return { ...next, isHeard: event.why !== "no_answer" && event.why !== "not_ours" };
  if (state.session === "renewing") return next;
  effects.push({ effect: "renew_session" });
  return { ...next, session: "renewing", isHeard: true };
}

function notRenewed(state: CoreState, event: CoreEvent & { event: "not_renewed" }): CoreState {
  const isRefused = event.why === "session" || event.why === "refused";
  return {
    ...state,
    session: isRefused ? "ended" : "live",
    isHeard: isRefused,
    pull: pause(state.pull, event),
  };
}

function hurry(state: CoreState, now: number, ...lanes: ("send" | "pull" | "list")[]): CoreState {
  let next = state;
  for (const name of lanes) next = { ...next, [name]: { ...next[name], due: Math.min(next[name].due, now) } };
  return next;
}

/** The pause after one more failure: twice as long each time, between half and one and a half of that by chance. */
function pause(lane: Lane, { now, chance }: CoreEvent): Lane {
  const wait = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** lane.failures) * (0.5 + chance);
  return { isUnderWay: lane.isUnderWay, failures: lane.failures + 1, due: now + wait };
}

function askEvery(state: CoreState, { chance }: CoreEvent): number {
  return (state.isVisible ? ASK_VISIBLE_MS : ASK_HIDDEN_MS) * (0.8 + 0.4 * chance);
}
