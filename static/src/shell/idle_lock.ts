// SPDX-License-Identifier: Apache-2.0
// A tablet nobody touches asks who goes on. The tray in hand stays as it is; only whose finds come next is asked anew.

const MINUTE_MS = 60_000;
/** Who decides, or sees everything, leaves a tablet that opens more than a bench: it closes sooner. Common practice. */
const DECIDERS_MS = 5 * MINUTE_MS;
const BENCH_MS = 15 * MINUTE_MS;
const DECIDERS: readonly string[] = ["lead", "administrator", "reader"];
const TOUCHES = ["pointerdown", "keydown"] as const;

export function idleLimit(roles: readonly string[]): number {
  return roles.some((role) => DECIDERS.includes(role)) ? DECIDERS_MS : BENCH_MS;
}

/**
 * Call `onIdle` once nobody touched the page for so long; returns how to stop watching.
 *
 * A tablet that slept wakes with its timers late: the first touch then locks, and does nothing else.
 */
export function watchIdle(page: EventTarget, limit: number, onIdle: () => void): () => void {
  let touchedAt = Date.now();
  let timer = setTimeout(onIdle, limit);
  const touch = (event: Event): void => {
    const now = Date.now();
    if (now - touchedAt >= limit) {
      event.preventDefault();
      event.stopImmediatePropagation();
      onIdle();
      return;
    }
    touchedAt = now;
    clearTimeout(timer);
    timer = setTimeout(onIdle, limit);
  };
  for (const name of TOUCHES) page.addEventListener(name, touch, { capture: true });
  return () => {
    clearTimeout(timer);
    for (const name of TOUCHES) page.removeEventListener(name, touch, { capture: true });
  };
}
