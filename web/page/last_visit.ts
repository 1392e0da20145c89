/** Which gauging on this device was the last one at a place, by the names of stream and site. */

import type { Entry } from "../journal/entry.ts";
import { fold, textAt, type Folded } from "../journal/fold.ts";
import type { GaugingSummary, Store } from "../journal/store_contract.ts";

export interface PlaceNames {
  readonly stream: string | undefined;
  readonly site: string | undefined;
}

export interface LastVisit {
  readonly summary: GaugingSummary;
  readonly entries: readonly Entry[];
  readonly folded: Folded;
  /** When it started; where that was never said, when its first entry was written. */
  readonly at: string;
}

/** Return the latest gauging of a place other than the open one, null where there is none. */
export async function lastVisitOf(
  store: Store,
  place: PlaceNames,
  open: string,
): Promise<LastVisit | null> {
  if (!place.stream?.trim() || !place.site?.trim()) return null;
  const wanted = placeKey(place);
  const others = (await store.gaugings()).filter(
    (gauging) => gauging.id !== open && placeKey(gauging) === wanted,
  );
  const begun = (await store.entries(open))[0]?.at;
  let latest: LastVisit | null = null;
  for (const summary of others) {
    const visit = await visitOf(store, summary);
    if (visit === null) continue;
    // A gauging that came later is no last visit of this one.
    if (begun !== undefined && Date.parse(visit.at) > Date.parse(begun)) continue;
    if (latest === null || Date.parse(visit.at) > Date.parse(latest.at)) latest = visit;
  }
  return latest;
}

/** Return a gauging on the device as a visit, null where nothing was ever said of it. */
export async function visitOf(store: Store, summary: GaugingSummary): Promise<LastVisit | null> {
  const entries = await store.entries(summary.id);
  const first = entries[0];
  if (first === undefined) return null;
  const folded = fold(entries);
  return { summary, entries, folded, at: textAt(folded, "started") ?? first.at };
}

/** Names that differ by case or blanks alone are one place. */
export function placeKey({ stream, site }: PlaceNames): string {
  const plain = (name: string | undefined) =>
    (name ?? "").trim().replace(/\s+/g, " ").toLocaleLowerCase("en");
  return JSON.stringify([plain(stream), plain(site)]);
}
