// SPDX-License-Identifier: Apache-2.0
// The service worker keeps the app for a start without network. A newer one waits until somebody says so at an
// idle moment: a change of version never takes a screen away under a hand.
import { signal } from "@preact/signals";
import { trustOwnScripts } from "../sync/trusted_scripts.js";

const CHECK_MS = 60 * 60 * 1000;

/** True while a newer version of the app waits. */
export const updateWaits = signal(false);
let waiting: ServiceWorker | undefined;
/** True once another tab changed to a newer version: files of this page's version are here no more. */
let isReplaced = false;

/** Fetch what is missing once more: by a new start where this page's version has no files any more. */
export function again(fetch: () => void): void {
  if (isReplaced) location.reload();
  else fetch();
}

export async function keepApp(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  trustOwnScripts();
  try {
    let before = navigator.serviceWorker.controller;
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      isReplaced ||= before !== null;
      before = navigator.serviceWorker.controller;
    });
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
