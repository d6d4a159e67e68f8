// SPDX-License-Identifier: Apache-2.0
// When to draw, and when a drawing is done.

/** Where no frame comes, because nobody sees the page, work goes on all the same. */
const LONGEST_MS = 100;

/** Calls back once, in time for the next frame. */
export function beforeFrame(then: () => void): void {
  let isDone = false;
  const once = (): void => {
    if (!isDone) then();
    isDone = true;
  };
  requestAnimationFrame(once);
  setTimeout(once, LONGEST_MS);
}

/** Resolves behind the next frame: whatever changed until now is on the screen. */
export function drawn(): Promise<void> {
  return new Promise((resolve) => beforeFrame(() => setTimeout(resolve)));
}
