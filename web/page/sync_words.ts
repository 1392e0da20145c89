/** What waits for the office's server, and how sync stands, in words. */

import type { GaugingSummary, Waiting } from "../journal/store_contract.ts";
import type { OfficeKept } from "../sync/office_kept.ts";

/** Return a count with its noun: 1 entry, 2 entries. */
export function counted(count: number, one: string, several: string): string {
  return `${count} ${count === 1 ? one : several}`;
}

/** Return what of a gauging is not on the server yet; "" where all of it is. */
export function waitingWords(
  { entries, photos }: Waiting,
  stuck: OfficeKept["stuck"],
  gauging: string,
): string {
  if (entries + photos === 0) return "";
  const refused = Object.values(stuck).filter((one) => one.gauging === gauging);
  const waits = entries + photos === 1 ? "waits" : "wait";
  const words = `${amount({ entries, photos })} ${waits} for the server`;
  return refused.length === 0 ? words : `${words}: ${refused[0]!.said}`;
}

/** Return how much waits in all gaugings of the device; "" where nothing does. */
export function waitingInAll(summaries: readonly GaugingSummary[]): string {
  const waiting = summaries.filter(({ waiting: { entries, photos } }) => entries + photos > 0);
  if (waiting.length === 0) return "";
  const sum = (name: keyof Waiting) => waiting.reduce((all, one) => all + one.waiting[name], 0);
  const all = { entries: sum("entries"), photos: sum("photos") };
  return `${amount(all)} of ${counted(waiting.length, "gauging", "gaugings")}`;
}

function amount({ entries, photos }: Waiting): string {
  const parts = [
    entries > 0 ? counted(entries, "entry", "entries") : "",
    photos > 0 ? counted(photos, "photo", "photos") : "",
  ];
  return parts.filter(Boolean).join(" and ");
}

/** How sync stands, as a line of the page's head tells it. */
export interface SyncStanding {
  readonly shape: "empty" | "part" | "whole" | "cross";
  readonly words: string;
}

/** Return how sync stands, where so many gaugings wait. */
export function syncStanding(
  kept: OfficeKept,
  now: { running: boolean; trouble: string | null; unreachable: boolean; waiting: number },
): SyncStanding {
  if (kept.revoked) return { shape: "cross", words: "The office does not let this device in: see Settings" };
  if (now.running) return { shape: "part", words: "Syncing with the office" };
  if (now.trouble !== null && !now.unreachable) {
    return { shape: "cross", words: "Not synced with the office: see Settings" };
  }
  if (now.waiting === 0) return { shape: "whole", words: "All is on the server" };
  const gaugings = counted(now.waiting, "gauging waits", "gaugings wait");
  return { shape: "empty", words: `${gaugings} for the server` };
}
