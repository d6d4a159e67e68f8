// SPDX-License-Identifier: Apache-2.0
// Times, ages and numbers in the present language, by Intl.
import { kept, numberIn } from "./format.js";
import { language, say } from "./say.js";

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;

/** A table writes dozens, and making a format takes a hundred times as long as writing with it. */
const percents = new Map<string, Intl.NumberFormat>();

export function number(value: number): string {
  return numberIn(language.value, value);
}

/** The point as whoever reads it writes it. */
export function pointOf(): "," | "." {
  return language.value === "de" ? "," : ".";
}

/** A number of a record, or two with dots between, as whoever reads it writes it: its digits stay as they are. */
export function asRead(value: string): string {
  return value.replaceAll(".", pointOf());
}

/** A fraction as a percentage; the whole is always written as exactly 100 %. */
export function percent(fraction: number): string {
  const digits = fraction === 1 ? 0 : 1;
  const style = { style: "percent", minimumFractionDigits: digits, maximumFractionDigits: digits } as const;
  const spoken = language.value;
  return kept(percents, `${spoken} ${digits}`, () => new Intl.NumberFormat(spoken, style)).format(fraction);
}

export function clock(at: number): string {
  return new Intl.DateTimeFormat(language.value, {
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  }).format(at);
}

export function day(at: number): string {
  return new Intl.DateTimeFormat(language.value, { day: "numeric", month: "short", year: "numeric" }).format(
    at,
  );
}

/** A day of the calendar that a record names, whatever zone reads it. */
export function dayAsRead(iso: string): string {
  return new Intl.DateTimeFormat(language.value, {
    day: "numeric",
    month: "short",
    year: "numeric",
    timeZone: "UTC",
  }).format(Date.parse(iso));
}

/** A day of the calendar on this tablet's wall, as an ISO text: texts sort as days do. */
export function isoDay(at: number): string {
  const date = new Date(at);
  const two = (value: number): string => String(value).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}

/** Day and time; `zone` where it is the site's clock that counts and not this device's. */
export function moment(at: number, zone?: string): string {
  return new Intl.DateTimeFormat(language.value, {
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
    ...(zone === undefined ? {} : { timeZone: zone }),
  }).format(at);
}

/** How long something has waited, in the two largest units that matter. */
export function age(ms: number): string {
  const waited = Math.max(0, ms);
  if (waited < MINUTE_MS) return say("age.moments");
  if (waited < HOUR_MS) return say("age.minutes", { minutes: Math.floor(waited / MINUTE_MS) });
  if (waited < 2 * DAY_MS) {
    return say("age.hours", {
      hours: Math.floor(waited / HOUR_MS),
      minutes: Math.floor((waited % HOUR_MS) / MINUTE_MS),
    });
  }
  return say("age.days", { days: Math.floor(waited / DAY_MS) });
}

/** Names of which one or another is meant, with the language's own word between them. */
export function oneOrAnother(names: readonly string[]): string {
  return new Intl.ListFormat(language.value, { type: "disjunction" }).format(names);
}
