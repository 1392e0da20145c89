/** The places that are known on this device: those of the gaugings on it, the last visit first. */

import type { Store } from "../journal/store_contract.ts";
import { placeKey, visitOf, type LastVisit } from "./last_visit.ts";

/** Return the last visit to every place with a name, the latest first. */
export async function knownPlaces(store: Store, without?: string): Promise<LastVisit[]> {
  const latest = new Map<string, LastVisit>();
  for (const summary of await store.gaugings()) {
    if (summary.id === without || !summary.stream.trim() || !summary.site.trim()) continue;
    const visit = await visitOf(store, summary);
    if (visit === null) continue;
    const there = latest.get(placeKey(summary));
    if (there === undefined || Date.parse(visit.at) > Date.parse(there.at)) {
      latest.set(placeKey(summary), visit);
    }
  }
  return [...latest.values()].sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}
