// SPDX-License-Identifier: Apache-2.0
// The service worker keeps the app for a start without network. A newer one waits until somebody says so at an
// idle moment: a change of version never takes a screen away under a hand.
import { signal } from "@preact/signals";
import { trustOwnScripts } from "../sync/trusted_scripts.js";

const CHECK_MS = 60 * 60 * 1000;

/** True while a newer version of the app waits. */
export const updateWaits = signal(false);
let waiting: ServiceWorker | undefined;

export async function keepApp(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  trustOwnScripts();
  try {
    const registration = await navigator.serviceWorker.register("/service_worker.js");
    watch(registration);
    setInterval(() => void registration.update().catch(() => undefined), CHECK_MS);
  } catch {
    // Without the worker the app runs as long as the server is there; records are kept all the same.
  }
}

/** Change to the version that waits, and start it. */
export function changeNow(): void {
  if (waiting === undefined) return;
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waiting.postMessage("change_now");
}

function watch(registration: ServiceWorkerRegistration): void {
  const look = (): void => {
    // The very first worker has nothing to replace.
    if (registration.waiting === null || navigator.serviceWorker.controller === null) return;
    waiting = registration.waiting;
    updateWaits.value = true;
  };
  look();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", look);
  });
}
