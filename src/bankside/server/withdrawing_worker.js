// Takes the place of the app's service worker on every device that asks the host for it, removes
// the app's own copies of its files, and itself. What was measured lies in IndexedDB: untouched.
// Open pages are not loaded anew, since somebody may be typing; the next load comes from the host.
"use strict";

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  event.waitUntil(withdraw());
});

async function withdraw() {
  // As in cachePrefix of web/files_contract.ts.
  const prefix = `bankside:${new URL(self.registration.scope).pathname}:`;
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(prefix)).map((name) => caches.delete(name)));
  await self.registration.unregister();
  const pages = await self.clients.matchAll({ type: "window", includeUncontrolled: true });
  // As in FromKeeper of web/sw/messages.ts.
  for (const page of pages) page.postMessage({ kind: "withdrawn" });
}
