// SPDX-License-Identifier: Apache-2.0
import { useLayoutEffect, useRef } from "preact/hooks";
import { Burst, LONGEST_GAP_MS } from "./burst.js";

/** So long after a character nobody means the key that has the focus with an Enter: a slow gauge ends its line. */
const END_OF_LINE_MS = 1000;

/** Hear what a scanner types, wherever the focus is. Its Enter and its blanks press no key of the screen. */
export function useScans(onScan: (text: string) => void): void {
  const heard = useRef(onScan);
  heard.current = onScan;
  useLayoutEffect(() => {
    const burst = new Burst();
    const down = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
      const isWithin = burst.isRunning(event.timeStamp);
      const text = burst.key(event.key, event.timeStamp);
      const isField = event.target instanceof HTMLInputElement;
      if (text !== undefined || (isWithin && !isField)) stop(event);
      if (text !== undefined) heard.current(text);
    };
    // Before any screen's own listener, so that it never hears the Enter.
    document.addEventListener("keydown", down, { capture: true });
    return () => document.removeEventListener("keydown", down, { capture: true });
  }, []);
}

/**
 * Hear what gauges and scanners type at a machine: numbers of one digit too, and nothing of it lands in a field or
 * on a key. Its first character may be a blank or stand in a field already: the first waits for a moment, the
 * second is taken out again.
 */
export function useReadings(onText: (text: string) => void): void {
  const heard = useRef(onText);
  heard.current = onText;
  useLayoutEffect(() => {
    const burst = new Burst(1);
    let first: { readonly field: HTMLInputElement; readonly value: string } | undefined;
    let lastCharacter = -Infinity;
    let waiting: ReturnType<typeof setTimeout> | undefined;
    const down = (event: KeyboardEvent): void => {
      if (!event.isTrusted || event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
      const { target, key, timeStamp } = event;
      const isWithin = burst.isRunning(timeStamp);
      const text = burst.key(key, timeStamp);
      clearTimeout(waiting);
      if (key.length === 1 && !isWithin) {
        first = target instanceof HTMLInputElement ? { field: target, value: target.value } : undefined;
      }
      const endsLine = key === "Enter" && timeStamp - lastCharacter < END_OF_LINE_MS;
      if (key.length === 1) lastCharacter = timeStamp;
      if (text !== undefined || isWithin || (endsLine && target instanceof HTMLButtonElement)) stop(event);
      else if ((key === " " || key === "Enter") && target instanceof HTMLButtonElement) {
        stop(event);
        waiting = setTimeout(() => target.click(), LONGEST_GAP_MS + 10);
      }
      if (text === undefined) return;
      if (first !== undefined) {
        first.field.value = first.value;
        first.field.dispatchEvent(new Event("input", { bubbles: true }));
      }
      heard.current(text.trim());
    };
    // Some browsers press a key when the blank comes up again.
    const up = (event: KeyboardEvent): void => {
      if (event.key === " " && event.target instanceof HTMLButtonElement) event.preventDefault();
    };
    document.addEventListener("keydown", down, { capture: true });
    document.addEventListener("keyup", up, { capture: true });
    return () => {
      clearTimeout(waiting);
      document.removeEventListener("keydown", down, { capture: true });
      document.removeEventListener("keyup", up, { capture: true });
    };
  }, []);
}

function stop(event: Event): void {
  event.preventDefault();
  event.stopPropagation();
}
