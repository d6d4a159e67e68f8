// SPDX-License-Identifier: Apache-2.0
// What the tablet does next about sync: (state, event) -> (state, effects). It knows no clock, no chance and no
// network: events bring the time and a random number, and whoever carries out the effects answers with events.
//
// One request to send (a push, or a question for the mark) and one pull are under way at most. After a send that
// failed the mark is asked for first: where the question comes through, it was the push that the way refused, and
// less is sent; where it does not, there is no contact, and nothing is concluded about the records.
//
// A mark that is not ours (a copied or an old profile) makes the tablet open a new chain, and go on in it.
import { after, withoutKnown, type BatchList, type Entry, type Pair } from "../folds/copies.js";
import {
  newPhoto,
  nextPhoto,
  photoDue,
  photoFailed,
  photoHeard,
  photosBehind,
  roomNeeded,
  sendPhoto,
} from "./core_photos.js";
import {
  formerOf,
  forgotten,
  idOf,
  isPastJudging,
  isSaidOf,
  judgementDue,
  keepFormer,
  marked,
  maySend,
  nextPush,
  send,
  sendFailed,
  turned,
} from "./core_send.js";
import {
  ALL_LANES,
  ASK_HIDDEN_MS,
  ASK_VISIBLE_MS,
  hurry,
  LIST_MS,
  MOST_GIVEN_BACK,
  pause,
  RESTING,
  type CoreEvent,
  type CoreState,
  type Effect,
  type Failure,
  type Leaving,
  type Step,
} from "./core_state.js";
import { mayLeave, without } from "./letting_go.js";
import { asideUntil, endOf, unsent } from "./outbox.js";

export { idOf } from "./core_send.js";
export { beginning } from "./core_state.js";
export type { CoreEvent, CoreState, Effect, Enclosed, Failure, FormerChain, Step } from "./core_state.js";
export type { Mark, Own, Stretch } from "./outbox.js";

export function step(before: CoreState, event: CoreEvent): Step {
  const effects: Effect[] = [];
  const learnt = learn(before, event, effects);
  // A server that is heard again is sent what waits, however long a pause its silence had led to; not where what was
  // heard is that it could not take it.
  const isBack = !before.isHeard && learnt.isHeard && event.event !== "send_failed";
  const state = decide(isBack ? hurry(learnt, event.now, "send") : learnt, event, effects);
  return { state, effects };
}

/** When something is due next, on the clock of the events; Infinity while all waits for answers. */
export function dueNext(state: CoreState, now: number): number {
  const due: number[] = [];
  if (maySend(state)) {
    const isReady = state.asksMark || nextPush(state, now) !== undefined;
    const until = Math.min(judgementDue(state), ...[state.sending, ...state.former].map(asideUntil));
    due.push(isReady ? state.send.due : Math.max(state.send.due, until));
  }
  if (mayPull(state)) due.push(state.pull.due);
  if (mayList(state)) due.push(state.list.due);
  if (mayFetch(state)) due.push(state.files.due);
  if (mayGiveBack(state)) due.push(state.giving.due);
  due.push(photoDue(state, now));
  return Math.min(Infinity, ...due);
}

function mayPull(state: CoreState): boolean {
  // A page that was asked for while records leave would lack those of a batch that is taken up just then.
  const isFree = state.session !== "renewing" && state.turnOver !== "under_way";
  return isFree && !state.pull.isUnderWay && state.keeping === undefined;
}

function mayList(state: CoreState): boolean {
  return state.session === "live" && !state.list.isUnderWay;
}

function mayFetch(state: CoreState): boolean {
  return state.session === "live" && !state.files.isUnderWay && state.wanted.length > 0;
}

function mayGiveBack(state: CoreState): boolean {
  return state.session === "live" && !state.giving.isUnderWay && state.copies.lost.length > 0;
}

/**
 * True while everything is to be fetched again: what came while another chain was in use lacks what that one wrote,
 * because a server sends nobody what he holds, and what another tablet wrote under it.
 */
function isOfAnotherChain({ copies, sending }: CoreState): boolean {
  return copies.cursor !== undefined && copies.chain !== sending.chain;
}

/** What the event says, written into the state. */
function learn(state: CoreState, event: CoreEvent, effects: Effect[]): CoreState {
  const { now } = event;
  switch (event.event) {
    case "started":
      return started(state, event, effects);
    case "saved":
      return saved(state, event);
    case "judged":
      return forgotten(state, (one) => event.records.includes(idOf(one)), effects);
    case "turned":
      return turned(state, event, effects);
    case "not_turned":
      return { ...state, isTurning: false };
    case "tick":
      return state;
    case "online":
      return hurry({ ...state, judging: RESTING, asksMark: true }, now, ...ALL_LANES);
    case "visible":
      return event.isVisible
        ? hurry({ ...state, isVisible: true }, now, ...ALL_LANES)
        : { ...state, isVisible: false };
    case "taken_up":
      return takenUp(state, event.pair, now, effects);
    case "marked":
      return photosBehind(state, marked(state, event, effects), now);
    case "turned_over":
      return turnedOver(state, event.left);
    case "send_failed":
      return sendFailed(state, event);
    case "pulled":
      return pulled(state, event, effects);
    case "cursor_void":
      return keep({ ...state, asksMark: true, isHeard: true }, { entry: "rolled_back" }, effects);
    case "pull_failed":
      return failedLane(state, "pull", event, effects);
    case "kept":
      return kept(state, event);
    case "renewed":
      return hurry(
        { ...state, session: "live", isHeard: true },
        now,
        "pull",
        "list",
        "files",
        "giving",
        "photo",
      );
    case "not_renewed":
      return notRenewed(state, event);
    case "listed":
      return listed(state, event.batches, event, effects);
    case "list_failed":
      return failedLane(state, "list", event, effects);
    case "files_named":
      return { ...state, wanted: event.files.filter((file) => !(file in state.copies.files)) };
    case "file_fetched":
      return fileFetched(state, event, effects);
    case "file_failed": {
      // The next one is asked for first: one file that is missing must not keep the others away.
      const [first, ...others] = state.wanted;
      const wanted = first === undefined ? [] : [...others, first];
      return failedLane({ ...state, wanted }, "files", event, effects);
    }
    case "given_back":
      return givenBack(state, event, effects);
    case "not_given_back":
      return failedLane(state, "giving", event, effects);
    case "photo_kept":
      return { ...state, photos: [...state.photos, newPhoto(event)] };
    case "photo_heard":
      return photoHeard(state, event, effects);
    case "photo_failed": {
      const failed = photoFailed(state, event);
      return event.why === "session" ? renewing(failed, effects) : failed;
    }
    case "room_needed":
      return roomNeeded(state, effects);
  }
}

/** Start every request that is due. */
function decide(state: CoreState, event: CoreEvent, effects: Effect[]): CoreState {
  if (!state.isStarted) return state;
  let next = state;
  const { now } = event;
  if (maySend(next) && now >= next.send.due) next = send(next, event, effects);
  const leaving = next.turnOver === "no" ? mayLeave(next) : undefined;
  if (leaving !== undefined) {
    effects.push({ effect: "turn_over", leaving });
    next = { ...next, turnOver: "under_way" };
  }
  if (isOfAnotherChain(next) && mayPull(next) && now >= next.pull.due) {
    next = keep(next, { entry: "rolled_back" }, effects);
  }
  if (mayPull(next) && now >= next.pull.due) {
    const { cursor: after, pairs: carry, head } = next.copies;
    effects.push({ effect: "pull", chain: next.sending.chain, after, carry, head });
    next = { ...next, pull: { ...next.pull, isUnderWay: true } };
  }
  const [file] = next.wanted;
  if (file !== undefined && mayFetch(next) && now >= next.files.due) {
    effects.push({ effect: "fetch_file", file });
    next = { ...next, files: { ...next.files, isUnderWay: true } };
  }
  if (mayGiveBack(next) && now >= next.giving.due) {
    // Half as many behind each failure: a way station may refuse what is large.
    const most = Math.max(1, MOST_GIVEN_BACK >> Math.min(next.giving.failures, 16));
    const lines = next.copies.lost.slice(0, most);
    const texts = lines.flatMap(({ file }) => (file === undefined ? [] : (next.copies.files[file] ?? [])));
    effects.push({ effect: "give_back", lines, texts });
    next = { ...next, giving: { ...next.giving, isUnderWay: true } };
  }
  if (mayList(next) && now >= next.list.due) {
    effects.push({ effect: "list_batches" });
    next = { ...next, list: { ...next.list, isUnderWay: true } };
  }
  const photo = nextPhoto(next, now);
  return photo === undefined ? next : sendPhoto(next, photo, effects);
}

function started(state: CoreState, event: CoreEvent & { event: "started" }, effects: Effect[]): CoreState {
  const { chain, base, own, copies } = event;
  const said = copies.confirmed;
  const isOurs = said !== undefined && isSaidOf(said, { chain, base, own });
  const confirmed = isOurs ? said.n : base.n;
  const begun: CoreState = {
    ...state,
    sending: {
      ...unsent(chain, own, base),
      confirmed,
      reached: confirmed,
      exceptions: isOurs ? said.exceptions : [],
      epoch: copies.epoch,
    },
    former: event.former.map((one) => formerOf(one, copies)),
    copies,
    enclosed: event.enclosed,
    photos: (event.photos ?? []).map(newPhoto),
    photo: RESTING,
    judging: RESTING,
    asksMark: true,
    failed: undefined,
    isTurning: false,
    turnOver: "no",
    isStarted: true,
  };
  const rid = forgotten(begun, isPastJudging(begun), effects);
  const known = rid.former.reduce((next, one) => keepFormer(next, one, effects), rid);
  // A pair may have been taken up before the store could say what it holds.
  const early = Object.keys(state.copies.pairs).filter((pair) => !(pair in copies.pairs));
  return early.reduce((next, pair) => takenUp(next, pair, event.now, effects), known);
}

function saved(state: CoreState, event: CoreEvent & { event: "saved" }): CoreState {
  const sending = { ...state.sending, own: [...state.sending.own, event.own] };
  const next = hurry({ ...state, sending }, event.now, "send");
  if (event.isEnclosed !== true) return next;
  const enclosed = { chain: sending.chain, n: endOf(sending) };
  return { ...next, enclosed: [...state.enclosed, enclosed], judging: RESTING };
}

/** What could not leave stays until the next start: nothing is lost by that but room. */
function turnedOver(state: CoreState, left: Leaving | undefined): CoreState {
  if (left === undefined) return { ...state, turnOver: "failed" };
  const former = state.former.filter((one) => !left.chains.includes(one.chain));
  return { ...state, former, sending: without(state.sending, left.upTo), turnOver: "no" };
}

function takenUp(state: CoreState, pair: Pair, now: number, effects: Effect[]): CoreState {
  if (Object.keys(state.copies.pairs).at(-1) === pair) return state;
  const entry: Entry = { entry: "taken_up", pair };
  effects.push({ effect: "keep", entry, isAwaited: false });
  return hurry({ ...state, copies: after(state.copies, entry) }, now, "pull");
}

function pulled(
  state: CoreState,
  { page, newest }: CoreEvent & { event: "pulled" },
  effects: Effect[],
): CoreState {
  if (!state.pull.isUnderWay) return state;
  const { copies, sending } = state;
  const isRestored = state.epoch !== undefined && page.epoch !== state.epoch;
  // A copied profile writes on under the same chain: its mark says so, and we go on in a new one. A server that was put
  // back without a word holds less than it confirmed: its mark says so, and we send it again.
  const isOurs = page.chain === sending.chain;
  const isNotAlone = isOurs && newest > endOf(sending);
  const isLess = isOurs && Math.max(newest, sending.base.n) < sending.confirmed;
  // A server that is put back is away before.
  const wasAway = state.pull.failures > 0;
  const asksMark = state.asksMark || isRestored || isNotAlone || isLess || wasAway;
  const next = { ...state, isHeard: true, asksMark };
  // Cursors hold in one epoch: another log may have the record a cursor names, and others before it.
  const isAnotherLog = copies.cursor !== undefined && copies.epoch !== page.epoch;
  if (isAnotherLog) return keep({ ...next, asksMark: true }, { entry: "rolled_back" }, effects);
  return keep(next, { entry: "page", page: withoutKnown(page, copies) }, effects);
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

function fileFetched(
  state: CoreState,
  { file, text }: CoreEvent & { event: "file_fetched" },
  effects: Effect[],
): CoreState {
  const entry: Entry = { entry: "file", file, text };
  effects.push({ effect: "keep", entry, isAwaited: false });
  return {
    ...state,
    isHeard: true,
    copies: after(state.copies, entry),
    wanted: state.wanted.filter((one) => one !== file),
    files: RESTING,
  };
}

/** They come again with the next pull, as the server's own. */
function givenBack(
  state: CoreState,
  event: CoreEvent & { event: "given_back" },
  effects: Effect[],
): CoreState {
  const entry: Entry = { entry: "given_back", lines: event.lines.map(({ line }) => line) };
  effects.push({ effect: "keep", entry, isAwaited: false });
  const next = { ...state, isHeard: true, copies: after(state.copies, entry), giving: RESTING };
  return hurry(next, event.now, "pull");
}

function failedLane(
  state: CoreState,
  name: "pull" | "list" | "files" | "giving",
  event: CoreEvent & { readonly why: Failure },
  effects: Effect[],
): CoreState {
  const lane = { ...pause(state[name], event), isUnderWay: false };
  const next = { ...state, [name]: lane };
  if (event.why !== "session")
    return { ...next, isHeard: event.why !== "no_answer" && event.why !== "not_ours" };
  return renewing(next, effects);
}

function renewing(state: CoreState, effects: Effect[]): CoreState {
  if (state.session === "renewing") return state;
  effects.push({ effect: "renew_session" });
  return { ...state, session: "renewing", isHeard: true };
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

function askEvery(state: CoreState, { chance }: CoreEvent): number {
  return (state.isVisible ? ASK_VISIBLE_MS : ASK_HIDDEN_MS) * (0.8 + 0.4 * chance);
}
