// SPDX-License-Identifier: Apache-2.0
// The tablet's own records on their way: which are confirmed, which go next, which wait. Pure.
//
// One Sending for each chain of the tablet. A chain that the server knows otherwise than we do (a copied or an old
// profile) is followed by a new one; what it has not sent is offered all the same, and the server stores it or sets
// it aside.

/** What is known of an own record besides its line. */
export interface Own {
  readonly hash: string;
  readonly bytes: number;
  /** What it is about, where that is a batch. */
  readonly batch?: string;
  /** The number of the sign-on it was made under, where that is of the same chain. */
  readonly under?: number;
}

/** The last record of a chain that left the journal: what stands there begins behind it. */
export interface Base {
  readonly n: number;
  readonly hash: string;
}

export const NOTHING_LEFT: Base = { n: 0, hash: "" };

export interface Stretch {
  readonly first: number;
  readonly last: number;
}

/** What the server says of this tablet's chain: all up to n is held, and the bytes at n have this hash. */
export interface Mark {
  readonly epoch: string;
  readonly n: number;
  readonly hash: string;
  /** Stretches held behind a gap. */
  readonly held: readonly Stretch[];
  readonly exceptions: readonly Exception[];
  /** All up to here is in a verified copy of the server's log. */
  readonly safe: number;
}

/** A record that is not simply stored: set aside by the server, or not let through by the way. */
export interface Exception {
  readonly n: number;
  readonly code: string;
}

export interface Sending {
  readonly chain: string;
  readonly base: Base;
  /** The records behind the base, in their order. */
  readonly own: readonly Own[];
  /** All up to here is covered by a mark with our own hash. */
  readonly confirmed: number;
  /** The highest number an answer spoke of. */
  readonly reached: number;
  readonly held: readonly Stretch[];
  /** The server's chain is not ours: it knows more (behind), or other bytes (forked). Nothing is pushed then. */
  readonly halted: "behind" | "forked" | undefined;
  /** How many lines the next push may have. */
  readonly most: number;
  /** Lines stepped over because only they are not let through: when they may be tried again, and how often they were. */
  readonly aside: Readonly<Record<number, { readonly until: number; readonly tries: number }>>;
  readonly exceptions: readonly Exception[];
  /** All up to here is in a verified copy of the server's log, with our own hash at the mark. */
  readonly safe: number;
  /** The server's epoch when this was learnt; another one may have less. */
  readonly epoch: string | undefined;
  /** False when the key that signs the chain is lost: its records stay here and in the export. */
  readonly isSendable: boolean;
}

export const MOST_LINES = 500;
/** A push may have 1 MiB; its head line takes a little of that. */
const MOST_BYTES = 1024 * 1024 - 16 * 1024;
const FIRST_ASIDE_MS = 30_000;
const LONGEST_ASIDE_MS = 30 * 60_000;
/** The code of a record that the way to the server refuses while it lets others through. */
export const NOT_LET_THROUGH = "not-let-through";
/** The server's code for a record whose number holds other bytes. */
const NUMBER_TAKEN = "number-taken";
/** Its codes for one that nothing signed led to yet, also because a log that was put back lacks the device. */
const UNVOUCHED: readonly string[] = ["unvouched", "unknown-device"];
/** What is said of a record until it comes through. */
export const UNTIL_THROUGH: readonly string[] = [NOT_LET_THROUGH, ...UNVOUCHED];

/** A chain of which nothing is known but its records. Only what the server had confirmed leaves a journal. */
export function unsent(chain: string, own: readonly Own[], base = NOTHING_LEFT): Sending {
  return {
    chain,
    base,
    own,
    confirmed: base.n,
    reached: base.n,
    held: [],
    halted: undefined,
    most: MOST_LINES,
    aside: {},
    exceptions: [],
    safe: 0,
    epoch: undefined,
    isSendable: true,
  };
}

/** The number of the last record of a chain. */
export function endOf({ base, own }: Pick<Sending, "base" | "own">): number {
  return base.n + own.length;
}

/** The hash at a number of a chain; undefined where the record left the journal, or is not made yet. */
export function hashAt({ base, own }: Pick<Sending, "base" | "own">, n: number): string | undefined {
  return n === base.n ? base.hash : own[n - base.n - 1]?.hash;
}

/**
 * The last record the server has answered for, of those in the journal; undefined where that is none, and of a chain
 * that cannot be sent again.
 */
export function lastAnswered(sending: Sending): Base | undefined {
  if (!sending.isSendable) return undefined;
  const n = Math.max(sending.confirmed, ...sending.held.map(({ last }) => last));
  const hash = n > sending.base.n ? hashAt(sending, n) : undefined;
  return hash === undefined ? undefined : { n, hash };
}

/** The oldest stretch that is to be sent now, as long as a push may be. */
export function nextStretch(sending: Sending, now: number): Stretch | undefined {
  if (sending.halted !== undefined || !sending.isSendable) return undefined;
  const waits = (n: number): boolean => isHeld(sending, n) || (sending.aside[n]?.until ?? 0) > now;
  const end = endOf(sending);
  let first = sending.confirmed + 1;
  while (first <= end && waits(first)) first += 1;
  if (first > end) return undefined;
  // A line that was stepped over is tried again alone, so that it holds up no other.
  if (first in sending.aside) return { first, last: first };
  let last = first;
  let bytes = bytesOf(sending, first);
  while (last < end && last - first + 1 < sending.most) {
    const next = last + 1;
    bytes += bytesOf(sending, next);
    if (bytes > MOST_BYTES || waits(next) || next in sending.aside) break;
    last = next;
  }
  return { first, last };
}

/**
 * Believe a mark as far as its hash is ours. `isMoved` says whether what was sent got anywhere.
 *
 * answered  what was sent and is answered with this mark; undefined where the answer to it was lost, and the mark was
 *           asked for
 */
export function takeMark(
  sending: Sending,
  mark: Mark,
  sent: Stretch | undefined,
  answered: Stretch | undefined,
): { sending: Sending; isMoved: boolean } {
  const reached = Math.max(sending.reached, sent?.last ?? 0);
  const halted = differenceOf(sending, mark);
  if (halted !== undefined) {
    return {
      sending: { ...knownIn(mark.epoch, sending), reached, halted, epoch: mark.epoch },
      isMoved: false,
    };
  }
  const next: Sending = {
    ...sending,
    reached: Math.max(reached, mark.n),
    // A server that was put back to a copy from before records left: what it lacks below the base is not here.
    confirmed: Math.max(mark.n, sending.base.n),
    held: mark.held,
    halted: undefined,
    epoch: mark.epoch,
    safe: safeBy(sending, mark),
  };
  const isMoved = sent !== undefined && (mark.n >= sent.first || isHeld(next, sent.first));
  return {
    sending: {
      ...next,
      most: isMoved ? Math.min(MOST_LINES, sending.most * 2) : sending.most,
      aside: stillAside(next),
      exceptions: merged(sending.exceptions, mark, answered),
    },
    isMoved,
  };
}

/** How far a chain is safe by what a mark says of it: only as far as the mark itself, and only with our hash there. */
export function safeBy(sending: Sending, mark: Pick<Mark, "n" | "hash" | "safe">): number {
  return mark.n > 0 && hashAt(sending, mark.n) === mark.hash ? Math.min(mark.n, mark.safe) : 0;
}

/** How the server's chain is not ours: it goes on behind our end, or has other bytes where we have some. */
function differenceOf(sending: Sending, mark: Mark): Sending["halted"] {
  const end = Math.max(mark.n, ...mark.held.map((stretch) => stretch.last));
  if (end > endOf(sending)) return "behind";
  const isOther = mark.n >= Math.max(1, sending.base.n) && hashAt(sending, mark.n) !== mark.hash;
  return isOther || mark.exceptions.some(({ code }) => code === NUMBER_TAKEN) ? "forked" : undefined;
}

/**
 * The chain as it is left behind: all of it is offered again. What was confirmed may have been by a server that was
 * put back since without a word, and the other side of a copied profile wrote in its place. Its `held` are from now
 * on the stretches the server answered for.
 */
export function leftBehind(sending: Sending): Sending {
  return { ...offeredAnew(sending), halted: undefined, aside: {}, most: MOST_LINES };
}

/**
 * What an answer says of a chain that was left behind. Its marks are another's; but whatever the server was sent and
 * does not name as unvouched it has stored or set aside.
 */
export function takeAnswer(
  sending: Sending,
  mark: Mark,
  sent: Stretch | undefined,
): { sending: Sending; isMoved: boolean } {
  const known = knownIn(mark.epoch, sending);
  if (sent === undefined) return { sending: { ...known, epoch: mark.epoch }, isMoved: false };
  const unvouched = new Set(mark.exceptions.filter(({ code }) => UNVOUCHED.includes(code)).map(({ n }) => n));
  const answered = new Set([...known.held, sent].flatMap(numbersOf));
  for (const n of unvouched) answered.delete(n);
  let confirmed = known.confirmed;
  while (answered.has(confirmed + 1)) confirmed += 1;
  const isMoved = numbersOf(sent).some((n) => answered.has(n));
  const next: Sending = {
    ...known,
    confirmed,
    reached: Math.max(known.reached, sent.last),
    held: stretchesOf([...answered].filter((n) => n > confirmed)),
    most: isMoved ? Math.min(MOST_LINES, known.most * 2) : known.most,
    exceptions: merged(known.exceptions, { ...mark, n: 0 }, sent),
    epoch: mark.epoch,
  };
  return { sending: { ...next, aside: stillAside(next) }, isMoved };
}

function numbersOf({ first, last }: Stretch): readonly number[] {
  return Array.from({ length: last - first + 1 }, (_, at) => first + at);
}

function stretchesOf(numbers: readonly number[]): readonly Stretch[] {
  const stretches: Stretch[] = [];
  for (const n of [...numbers].sort((left, right) => left - right)) {
    const last = stretches.at(-1);
    if (last?.last === n - 1) stretches[stretches.length - 1] = { first: last.first, last: n };
    else stretches.push({ first: n, last: n });
  }
  return stretches;
}

/** A chain as a server of this epoch knows it. */
function knownIn(epoch: string | undefined, sending: Sending): Sending {
  return sending.epoch === undefined || sending.epoch === epoch ? sending : offeredAnew(sending);
}

/** A server that was restored may lack what an earlier one answered for. */
export function offeredAnew(sending: Sending): Sending {
  return { ...sending, confirmed: sending.base.n, held: [], safe: 0, epoch: undefined };
}

/**
 * Send half of it next time; a single line that failed twice is stepped over, shown, and tried again later. Once is
 * no proof: a server that came back between the push and the question for its mark looks just like a way that
 * refuses this line.
 */
export function shrink(sending: Sending, sent: Stretch, now: number): Sending {
  const size = sent.last - sent.first + 1;
  if (size > 1) return { ...sending, most: Math.max(1, Math.floor(size / 2)) };
  const n = sent.first;
  const tries = (sending.aside[n]?.tries ?? 0) + 1;
  if (tries === 1) return { ...sending, aside: { ...sending.aside, [n]: { until: now, tries } } };
  const wait = Math.min(LONGEST_ASIDE_MS, FIRST_ASIDE_MS * 2 ** (tries - 2));
  const isNamed = sending.exceptions.some((exception) => exception.n === n);
  return {
    ...sending,
    aside: { ...sending.aside, [n]: { until: now + wait, tries } },
    exceptions: isNamed ? sending.exceptions : [...sending.exceptions, { n, code: NOT_LET_THROUGH }],
  };
}

/** When the first line that was stepped over may be tried again. */
export function asideUntil(sending: Sending): number {
  return Math.min(Infinity, ...Object.values(sending.aside).map((line) => line.until));
}

function isHeld(sending: Sending, n: number): boolean {
  return sending.held.some((stretch) => n >= stretch.first && n <= stretch.last);
}

function bytesOf({ base, own }: Sending, n: number): number {
  return (own[n - base.n - 1]?.bytes ?? 0) + 1;
}

function stillAside(sending: Sending): Sending["aside"] {
  const waiting = Object.entries(sending.aside).filter(
    ([n]) => Number(n) > sending.confirmed && !isHeld(sending, Number(n)),
  );
  return Object.fromEntries(waiting);
}

/**
 * What the server says of a record replaces what was said before, also when it has nothing to say of it any more; what
 * came through is no exception of the way.
 */
function merged(
  before: readonly Exception[],
  mark: Mark,
  answered: Stretch | undefined,
): readonly Exception[] {
  const said = new Map(before.map((exception) => [exception.n, exception.code]));
  for (const [n, code] of said) {
    const isAnswered = answered !== undefined && n >= answered.first && n <= answered.last;
    if (isAnswered || (n <= mark.n && UNTIL_THROUGH.includes(code))) said.delete(n);
  }
  for (const { n, code } of mark.exceptions) said.set(n, code);
  const merged = [...said].map(([n, code]) => ({ n, code })).sort((left, right) => left.n - right.n);
  return JSON.stringify(merged) === JSON.stringify(before) ? before : merged;
}
