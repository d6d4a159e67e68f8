// SPDX-License-Identifier: Apache-2.0
// Caches the app and nothing else: page and files always come from one version. It never sees a record, and what
// is asked of the server goes to the server.
import {
  cleanupOutdatedCaches,
  createHandlerBoundToURL,
  precacheAndRoute,
  type PrecacheEntry,
} from "workbox-precaching";
import { NavigationRoute, registerRoute } from "workbox-routing";

declare const self: ServiceWorkerGlobalScope & {
  readonly __WB_MANIFEST: (PrecacheEntry | string)[];
};

precacheAndRoute(self.__WB_MANIFEST);
cleanupOutdatedCaches();
registerRoute(
  new NavigationRoute(createHandlerBoundToURL("/index.html"), { denylist: [/^\/api\//, /^\/health$/] }),
);

// The page of the very first visit is looked after at once: a newer build on the server takes none of its files away.
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

self.addEventListener("message", (event) => {
  if (event.data === "change_now") void self.skipWaiting();
});
