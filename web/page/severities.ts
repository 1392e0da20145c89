/** How grave a finding is, from "stop" to "note". */

import type { Severity } from "./view.ts";

/** From the gravest on. */
export const SEVERITIES: readonly Severity[] = ["stop", "fix now", "explain", "note"];

export const SEVERITY_WORDS: Readonly<Record<Severity, string>> = {
  stop: "Stop",
  "fix now": "Fix now",
  explain: "Explain",
  note: "Note",
};

export function isGrave(severity: Severity): boolean {
  return severity === "stop" || severity === "fix now";
}
