// SPDX-License-Identifier: Apache-2.0
// When to draw, and when a drawing is on the screen. To draw and to lay out and paint are tasks of their own: together
// they keep a slow tablet from answering the next finger for a tenth of a second.

/** Where no frame comes, because nobody sees the page, work goes on all the same. */
const LONGEST_MS = 100;

/**
 * What a hand does to a page. Not "pointerdown" and "focusin": what is drawn there moves keys away under the finger.
 * Not "input" and "change": there a field holds what is typed before it is drawn.
 */
const ACTS = ["click", "keydown", "beforeinput", "submit"] as const;

/** What waits to be drawn. */
const waiting = new Set<() => void>();
/** Something was changed that no frame has shown yet. */
let isUnshown = false;

/** Calls back once, in a task of its own: now, or behind the frame that shows what was changed before. */
export function drawSoon(then: () => void): void {
  const once = (): void => {
    if (!waiting.delete(once)) return;
    noteChange();
    then();
  };
  waiting.add(once);
  if (isUnshown) behindFrame(once);
  else setTimeout(once);
}

/** Resolves when whatever changed until now is on the screen. */
export function drawn(): Promise<void> {
  return new Promise((resolve) => {
    drawSoon(() => {
      behindFrame(resolve);
    });
  });
}

/**
 * Draws what waits before each act of a hand, so that no act meets a screen of before the last one: a key pressed
 * twice within a frame types two digits, and a second press of "Store" finds the first one's screen. A key that a
 * finger goes down on shows that at once, and before anything else is drawn.
 */
export function drawBeforeActs(page: EventTarget): void {
  const draw = (): void => {
    for (const once of waiting) once();
  };
  for (const act of ACTS) page.addEventListener(act, draw, { capture: true });
  page.addEventListener("pointerdown", noteChange, { capture: true });
}

function noteChange(): void {
  if (isUnshown) return;
  isUnshown = true;
  requestAnimationFrame(() => (isUnshown = false));
}

function behindFrame(then: () => void): void {
  requestAnimationFrame(() => setTimeout(then));
  setTimeout(then, LONGEST_MS);
}
