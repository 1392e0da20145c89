/** What the office held of a gauging, in words. */

import type { Review } from "../journal/review.ts";
import { dayOf } from "./moments.ts";

/** Return by whom and when it was approved or sent back, and whether it was changed since. */
export function reviewWords({ verdict, by, at, changedSince }: Review): string {
  const held = verdict === "approved" ? "Approved" : "Sent back";
  return `${held} by ${by}, ${dayOf(at)}${changedSince ? ", and changed since" : ""}`;
}
