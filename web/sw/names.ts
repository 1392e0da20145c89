/** The names of our caches. All apps of a host share one store, so a name says whose it is. */

import { cachePrefix } from "../files_contract.ts";

declare const self: ServiceWorkerGlobalScope;

const OWN = cachePrefix(self.registration.scope);

export function shellCache(version: string): string {
  return `${OWN}shell:${version}`;
}

export function engineCache(version: string): string {
  return `${OWN}engine:${version}`;
}

/** The names of all caches that any version of this app at this path has made. */
export async function ownCaches(): Promise<string[]> {
  return (await caches.keys()).filter((name) => name.startsWith(OWN));
}
