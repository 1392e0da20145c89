/** The places that are known on this device: those of the gaugings on it, the last visit first. */

import type { GaugingSummary, Store } from "../journal/store_contract.ts";
import { placeKey, startOf, visitOf, type LastVisit } from "./last_visit.ts";

/** Return the last visit to every place with a name, the latest first. */
export async function knownPlaces(store: Store, without?: string): Promise<LastVisit[]> {
  const latest = new Map<string, GaugingSummary>();
  for (const summary of await store.gaugings()) {
    if (summary.id === without || !summary.stream.trim() || !summary.site.trim()) continue;
    const there = latest.get(placeKey(summary));
    if (there === undefined || Date.parse(startOf(summary)) > Date.parse(startOf(there))) {
      latest.set(placeKey(summary), summary);
    }
  }
  const visits = await Promise.all([...latest.values()].map((summary) => visitOf(store, summary)));
  return visits
    .filter((visit) => visit !== null)
    .sort((a, b) => Date.parse(b.at) - Date.parse(a.at));
}
