/** What a list of gaugings shows: read from their entries alone. */

import type { Entry } from "./entry.ts";
import { fold, textAt, valueAt } from "./fold.ts";
import type { GaugingSummary, Whereabouts } from "./store_contract.ts";

/** The entries of a gauging that have left the device for one place. */
export interface Mark {
  readonly gauging: string;
  readonly whereabouts: Exclude<Whereabouts, "here only">;
  readonly entries: readonly string[];
}

/** Return the summaries of all gaugings that have entries, the last begun first. */
export function summaries(entries: readonly Entry[], marks: readonly Mark[]): GaugingSummary[] {
  const byGauging = new Map<string, Entry[]>();
  for (const entry of entries) {
    const own = byGauging.get(entry.gauging);
    if (own) own.push(entry);
    else byGauging.set(entry.gauging, [entry]);
  }
  return [...byGauging]
    .map(([id, own]) => summary(id, own, marks))
    .sort((a, b) => Date.parse(b.begun) - Date.parse(a.begun));
}

function summary(id: string, entries: readonly Entry[], marks: readonly Mark[]): GaugingSummary {
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
  };
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
  const named = new Set<string>();
  for (const { what, value } of entries) {
    if (!what.startsWith("photos/")) continue;
    const photo = value as { readonly sha256?: unknown } | null;
    if (typeof photo?.sha256 === "string") named.add(photo.sha256);
  }
  return named;
}
