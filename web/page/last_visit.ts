/** Which gauging on this device was the last one at a place, by the names of stream and site. */

import type { Entry } from "../journal/entry.ts";
import { fold, type Folded } from "../journal/fold.ts";
import type { GaugingSummary, Store } from "../journal/store_contract.ts";

export interface PlaceNames {
  readonly stream: string | undefined;
  readonly site: string | undefined;
}

export interface LastVisit {
  readonly summary: Pick<GaugingSummary, "id" | "stream" | "site">;
  /** Whether it is of this device, or what the office handed over. */
  readonly from: "device" | "office";
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
  const gaugings = await store.gaugings();
  const others = gaugings.filter(
    (gauging) => gauging.id !== open && placeKey(gauging) === wanted,
  );
  // A gauging that came later is no last visit of this one.
  const own = gaugings.find(({ id }) => id === open);
  const until = own === undefined ? Infinity : Date.parse(startOf(own));
  const latest = others
    .filter((gauging) => Date.parse(startOf(gauging)) <= until)
    .sort((a, b) => Date.parse(startOf(b)) - Date.parse(startOf(a)))[0];
  return latest === undefined ? null : visitOf(store, latest);
}

/** Return a gauging on the device as a visit, null where nothing was ever said of it. */
export async function visitOf(store: Store, summary: GaugingSummary): Promise<LastVisit | null> {
  const entries = await store.entries(summary.id);
  if (entries.length === 0) return null;
  return { summary, from: "device", entries, folded: fold(entries), at: startOf(summary) };
}

/** Return when a gauging started; where that was never said, when its first entry was written. */
export function startOf({ started, begun }: GaugingSummary): string {
  return started ?? begun;
}

/** Names that differ by case or blanks alone are one place. */
export function placeKey({ stream, site }: PlaceNames): string {
  const plain = (name: string | undefined) =>
    (name ?? "").trim().replace(/\s+/g, " ").toLocaleLowerCase("en");
  return JSON.stringify([plain(stream), plain(site)]);
}
