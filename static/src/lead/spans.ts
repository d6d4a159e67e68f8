// SPDX-License-Identifier: Apache-2.0
// The spans a lead asks for, in the site's own zone: the shift of now and the one before, the day of now, seven days,
// everything, or days that are chosen.
import type { ShiftDefinition } from "../records/kinds.js";
import { kept } from "../words/format.js";

export type SpanName = "shift" | "shift_before" | "day" | "week" | "all";

/** `to` is not included. */
export interface Span {
  readonly from: number;
  readonly to: number;
  readonly shift: string;
}

const DAY_MS = 24 * 60 * 60 * 1000;
const MINUTE_MS = 60 * 1000;

/** Without a shift definition the day stands for the shift. */
export function spanOf(name: SpanName, now: number, shifts: ShiftDefinition | undefined): Span {
  const zone = zoneOf(shifts);
  if (name === "all") return { from: 0, to: now + DAY_MS, shift: "" };
  const today = wallOf(now, zone).day;
  if (name === "week") return ofDays(today - 6 * DAY_MS, today, zone);
  if (name === "day") return ofDays(today, today, zone);
  if (shifts === undefined) {
    const day = name === "shift" ? today : today - DAY_MS;
    return ofDays(day, day, zone);
  }
  const present = shiftSpan(now, shifts);
  return name === "shift" ? present : shiftSpan(present.from - 1, shifts);
}

/** From the first day to the last, both in it, as ISO texts; undefined for days that are none. */
export function daysSpan(first: string, last: string, shifts: ShiftDefinition | undefined): Span | undefined {
  const [from, to] = [first, last].map((day) => Date.parse(`${day}T00:00:00Z`)) as [number, number];
  return from <= to ? ofDays(from, to, zoneOf(shifts)) : undefined;
}

function ofDays(first: number, last: number, zone: string): Span {
  return { from: instantOf(first, 0, zone), to: instantOf(nextDay(last), 0, zone), shift: "" };
}

function zoneOf(shifts: ShiftDefinition | undefined): string {
  return shifts?.time_zone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
}

function shiftSpan(now: number, { time_zone, shifts }: ShiftDefinition): Span {
  const today = wallOf(now, time_zone).day;
  // Yesterday's last shift may still run, and the one after the present may begin tomorrow.
  const starts = [today - DAY_MS, today, nextDay(today)]
    .flatMap((day) =>
      shifts.map(({ shift, starts: at }) => ({ shift, from: instantOf(day, minutesOf(at), time_zone) })),
    )
    .sort((left, right) => left.from - right.from);
  const present = starts.filter((start) => start.from <= now).at(-1);
  const next = starts.find((start) => start.from > now);
  return { from: present?.from ?? now, to: next?.from ?? now + DAY_MS, shift: present?.shift ?? "" };
}

function minutesOf(text: string): number {
  const [hours = "0", minutes = "0"] = text.split(":");
  return Number(hours) * 60 + Number(minutes);
}

/** A day is named by the UTC instant at which a clock that shows UTC would begin it. */
function nextDay(day: number): number {
  return day + DAY_MS;
}

/** By zone: a span asks for a dozen moments, and making a clock takes longer than reading all of them. */
const walls = new Map<string, Intl.DateTimeFormat>();

function wallClock(zone: string): Intl.DateTimeFormat {
  return new Intl.DateTimeFormat("en-US", {
    timeZone: zone,
    hourCycle: "h23",
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  });
}

/** What the clock on the wall shows. */
function wallOf(at: number, zone: string): { readonly day: number; readonly shown: number } {
  const parts = kept(walls, zone, () => wallClock(zone)).formatToParts(at);
  const of = (type: string): number => Number(parts.find((part) => part.type === type)?.value ?? 0);
  const day = Date.UTC(of("year"), of("month") - 1, of("day"));
  return { day, shown: day + ((of("hour") * 60 + of("minute")) * 60 + of("second")) * 1000 };
}

/** When the wall clock of a zone shows that time. The second try lands where the first crossed a clock change. */
function instantOf(day: number, minutes: number, zone: string): number {
  const wanted = day + minutes * MINUTE_MS;
  let at = wanted;
  for (let turn = 0; turn < 2; turn += 1) at = wanted - (wallOf(at, zone).shown - at);
  return at;
}
