/** What the office held of a gauging, and whether it still holds for the entries as they are. */

import { contentOf, compareTexts, type Entry } from "./entry.ts";
import { sha256OfText } from "./digest.ts";
import type { Folded } from "./fold.ts";

export type Verdict = "approved" | "sent back";

export interface ReviewSaid {
  readonly verdict: Verdict;
  readonly by: string;
  readonly at: string;
  readonly reason: string | undefined;
  /** The digest of the entries that were looked at, as `stateOf` gives it. */
  readonly state: string;
}

/** A verdict, and whether anything was said since that it does not know of. */
export interface Review extends ReviewSaid {
  readonly changedSince: boolean;
}

/** Return the verdict on a gauging by all its entries, null where there is none. */
export async function reviewed(folded: Folded, entries: Iterable<Entry>): Promise<Review | null> {
  const said = reviewOf(folded);
  if (said === null) return null;
  return { ...said, changedSince: (await stateOf(entries)) !== said.state };
}

/** Return the verdict that stands, null where there is none that can be read. */
export function reviewOf(folded: Folded): ReviewSaid | null {
  const said = folded.get("review");
  const value = (said?.value ?? null) as Partial<Record<keyof ReviewSaid, unknown>> | null;
  if (!said || value === null) return null;
  const { verdict, by, state } = value;
  if (verdict !== "approved" && verdict !== "sent back") return null;
  if (typeof by !== "string" || typeof state !== "string") return null;
  const { at, reason } = said.entry;
  return { verdict, by, at, reason, state };
}

/**
 * Return the SHA-256 of all entries but those of review, as Python's `state_of` does: another one
 * as soon as anything else was said.
 */
export function stateOf(entries: Iterable<Entry>): Promise<string> {
  const lookedAt = [...entries].filter(({ what }) => what !== "review");
  const contents = lookedAt
    .sort((a, b) => compareTexts(a.id, b.id))
    .map((entry) => `${contentOf(entry)}\n`);
  return sha256OfText(contents.join(""));
}
