// SPDX-License-Identifier: Apache-2.0
// A foot pedal is a keyboard of one key. Which key it sends, and what that does, is kept on this tablet: it stands
// under this bench. It is a setting and no record.
import { useLayoutEffect, useRef } from "preact/hooks";
import { Burst, LONGEST_GAP_MS } from "./burst.js";

/** What a pedal can do, by where: at the tally, and at a machine. */
export const PEDAL_ACTS = {
  tally: ["undo", "tray_end", "main_reject"],
  machine: ["usual_made", "store"],
} as const;
export type PedalAct = (typeof PEDAL_ACTS)[keyof typeof PEDAL_ACTS][number];
export type PedalKeys = Partial<Readonly<Record<PedalAct, string>>>;

const KEPT_AS = "tallywright-pedal";

/** Numbers are typed with these, and a hand moves about with those: a pedal that sent one could not be told apart. */
const TAKEN = ["Tab", "Escape", "Backspace", "Delete", "Shift", "Control", "Alt", "Meta", "AltGraph", "Dead"];

export function mayBePedal(key: string): boolean {
  return !/^[-+.,0-9]$/.test(key) && !TAKEN.includes(key) && key !== "Unidentified" && key !== "Process";
}

export function pedalKeys(): PedalKeys {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEPT_AS) ?? "{}");
    return typeof kept === "object" && kept !== null ? kept : {};
  } catch {
    return {};
  }
}

/** Keep a key for an act, or none; at one place a key does one thing, so another act there gives it up. */
export function keepPedal(act: PedalAct, key: string | undefined): PedalKeys {
  const place = Object.values(PEDAL_ACTS).find((acts) => acts.some((one) => one === act)) ?? [];
  const others = Object.entries(pedalKeys()).filter(
    ([name, kept]) => name !== act && !(kept === key && place.some((one) => one === name)),
  );
  const keys: PedalKeys = Object.fromEntries(key === undefined ? others : [...others, [act, key]]);
  localStorage.setItem(KEPT_AS, JSON.stringify(keys));
  return keys;
}

/** Do what the pedal is set to, where the screen has that act; `at` is the time of the key. */
export function usePedal(acts: Partial<Readonly<Record<PedalAct, (at: number) => void>>>): void {
  const present = useRef(acts);
  present.current = acts;
  // Before the screen is painted: the first press on what is seen is heard.
  useLayoutEffect(() => {
    const keys = pedalKeys();
    const burst = new Burst();
    let waiting: ReturnType<typeof setTimeout> | undefined;
    const down = (event: KeyboardEvent): void => {
      const { key, timeStamp, target } = event;
      const isWithin = burst.isRunning(timeStamp);
      burst.key(key, timeStamp);
      clearTimeout(waiting);
      const act = Object.values(PEDAL_ACTS)
        .flat()
        .find((one) => keys[one] === key && present.current[one]);
      if (act === undefined || isWithin || event.ctrlKey || event.metaKey || event.altKey) return;
      const isTyped = key.length === 1;
      if (isTyped && target instanceof HTMLInputElement && !target.classList.contains("keypad-field")) return;
      event.preventDefault();
      event.stopPropagation();
      if (event.repeat) return;
      const press = (): void => present.current[act]?.(timeStamp);
      // A letter may be the first of a scan: it is the pedal's if nothing follows it.
      if (isTyped) waiting = setTimeout(press, LONGEST_GAP_MS + 10);
      else press();
    };
    window.addEventListener("keydown", down, { capture: true });
    return () => {
      clearTimeout(waiting);
      window.removeEventListener("keydown", down, { capture: true });
    };
  }, []);
}
