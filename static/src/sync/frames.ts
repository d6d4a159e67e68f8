// SPDX-License-Identifier: Apache-2.0
// When to draw, and when a drawing is done.

/** Where no frame comes, because nobody sees the page, work goes on all the same. */
const LONGEST_MS = 100;

/**
 * What a hand does to a page. Not "pointerdown" and "focusin": what is drawn there moves keys away under the finger.
 * Not "input" and "change": there a field holds what is typed before it is drawn.
 */
const ACTS = ["click", "keydown", "beforeinput", "submit"] as const;

/** What waits to be drawn. */
const waiting = new Set<() => void>();

/** Calls back once, in time for the next frame, or in time for what a hand does before it. */
export function beforeFrame(then: () => void): void {
  const once = (): void => {
    if (waiting.delete(once)) then();
  };
  waiting.add(once);
  requestAnimationFrame(once);
  setTimeout(once, LONGEST_MS);
}

/** Resolves behind the next frame: whatever changed until now is on the screen. */
export function drawn(): Promise<void> {
  return new Promise((resolve) => beforeFrame(() => setTimeout(resolve)));
}

/**
 * Draws what waits before each act of a hand, so that no act meets a screen of before the last one: a key pressed
 * twice within a frame types two digits, and a second press of "Store" finds the first one's screen.
 */
export function drawBeforeActs(page: EventTarget): void {
  const draw = (): void => {
    for (const once of waiting) once();
  };
  for (const act of ACTS) page.addEventListener(act, draw, { capture: true });
}
