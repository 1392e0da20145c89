/** Where a gauging is opened from the list. */

import type { GaugingSummary } from "../journal/store_contract.ts";
import type { Step } from "./app_context.svelte.ts";

/**
 * Return the step at which a gauging goes on: where its readings are, or before the first of them at
 * the beginning, which in practice is the stream; one that was sent back where that is told.
 */
export function reopenedAt(
  { started, closed, review }: Pick<GaugingSummary, "started" | "closed" | "review">,
  practice: boolean,
): Step {
  if (review?.verdict === "sent back") return "check";
  if (closed) return "close";
  if (started !== undefined) return "read";
  return practice ? "stream" : "set-out";
}
