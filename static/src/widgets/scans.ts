// SPDX-License-Identifier: Apache-2.0
import { useEffect, useRef } from "preact/hooks";
import { Burst } from "./burst.js";

/** Hear what a scanner types, wherever the focus is. Its Enter and its blanks press no key of the screen. */
export function useScans(onScan: (text: string) => void): void {
  const heard = useRef(onScan);
  heard.current = onScan;
  useEffect(() => {
    const burst = new Burst();
    const down = (event: KeyboardEvent): void => {
      if (event.ctrlKey || event.metaKey || event.altKey || event.repeat) return;
      const isWithin = burst.isRunning(event.timeStamp);
      const text = burst.key(event.key, event.timeStamp);
      const isField = event.target instanceof HTMLInputElement;
      if (text !== undefined || (isWithin && !isField)) {
        event.preventDefault();
        event.stopPropagation();
      }
      if (text !== undefined) heard.current(text);
    };
    // Before any screen's own listener, so that it never hears the Enter.
    document.addEventListener("keydown", down, { capture: true });
    return () => document.removeEventListener("keydown", down, { capture: true });
  }, []);
}
