/** What a list of gaugings shows: read from their entries alone. */

import type { Entry } from "./entry.ts";
import { fold, textAt, valueAt } from "./fold.ts";
import { reviewed } from "./review.ts";
import type { GaugingSummary, Waiting, Whereabouts } from "./store_contract.ts";

/**
 * The entries of a gauging that have left the device for one place; "whole" marks none, and says
 * that all is here that the server had of the gauging.
 */
export interface Mark {
  readonly gauging: string;
  readonly whereabouts: Exclude<Whereabouts, "here only"> | "whole";
  readonly entries: readonly string[];
}

/** Return the summaries of all gaugings that have entries, the last begun first. */
export async function summaries(
  entries: readonly Entry[],
  marks: readonly Mark[],
): Promise<GaugingSummary[]> {
  const all = [...byGauging(entries)].map(([id, own]) => summary(id, own, marks));
  return (await Promise.all(all)).sort((a, b) => Date.parse(b.begun) - Date.parse(a.begun));
}

/** Return entries by their gauging, in the order given. */
export function byGauging(entries: Iterable<Entry>): ReadonlyMap<string, readonly Entry[]> {
  const gaugings = new Map<string, Entry[]>();
  for (const entry of entries) {
    const own = gaugings.get(entry.gauging);
    if (own) own.push(entry);
    else gaugings.set(entry.gauging, [entry]);
  }
  return gaugings;
}

async function summary(
  id: string,
  entries: readonly Entry[],
  marks: readonly Mark[],
): Promise<GaugingSummary> {
  const folded = fold(entries);
  const first = entries.reduce((a, b) => (b.sequence < a.sequence ? b : a));
  const left = marks.filter((mark) => mark.gauging === id);
  return {
    id,
    stream: textAt(folded, "site/stream") ?? "",
    site: textAt(folded, "site/name") ?? "",
    begun: first.at,
    started: textAt(folded, "started"),
    entries: entries.length,
    closed: (valueAt(folded, "closed") ?? null) !== null,
    whereabouts: whereaboutsOf(entries, left),
    waiting: waitingOf(entries, left),
    review: await reviewed(folded, entries),
  };
}

/** Return how much of a gauging is not known to be on the server, given its marks. */
export function waitingOf(entries: readonly Entry[], marks: readonly Mark[]): Waiting {
  const there = sentIds(marks);
  const waiting = entries.filter(({ id }) => !there.has(id));
  const photos = filesNamed(waiting).size;
  return { entries: waiting.filter((entry) => fileNamed(entry) === null).length, photos };
}

/** Return the ids of the entries that the server has said to hold, with their photos. */
export function sentIds(marks: readonly Mark[]): ReadonlySet<string> {
  return new Set(marks.find(({ whereabouts }) => whereabouts === "on the server")?.entries);
}

/** Return where all of these entries are besides on the device, given the marks of their gauging. */
export function whereaboutsOf(entries: readonly Entry[], marks: readonly Mark[]): Whereabouts {
  for (const whereabouts of ["on the server", "exported"] as const) {
    const gone = new Set(marks.find((mark) => mark.whereabouts === whereabouts)?.entries);
    if (entries.every(({ id }) => gone.has(id))) return whereabouts;
  }
  return "here only";
}

/** Return the checksums of all files that entries ever named. */
export function filesNamed(entries: readonly Entry[]): Set<string> {
  return new Set(entries.map(fileNamed).filter((sha256) => sha256 !== null));
}

/** Return the checksum of the photo that an entry names, null where it names none. */
export function fileNamed({ what, value }: Entry): string | null {
  if (!what.startsWith("photos/")) return null;
  const photo = value as { readonly sha256?: unknown } | null;
  return typeof photo?.sha256 === "string" ? photo.sha256 : null;
}
