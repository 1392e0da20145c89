/** What a new gauging takes over from the last visit: said anew, as entries of its own. */

import { keysUnder, valueAt, type Folded } from "../journal/fold.ts";
import { newKey, type Saying } from "./gauging.svelte.ts";

/** The site without its position: that is measured at every visit, or asked for. */
export const COPIED = {
  site: ["site/id", "site/stream", "site/name", "site/label"],
  units: ["units/length", "units/depth", "units/velocity"],
  meter: [
    "meter/kind",
    "meter/serial",
    "meter/rotor",
    "meter/rating",
    "meter/slowest",
    "meter/shallowest",
    "meter/calibrated",
    "meter/calibration_due",
  ],
} as const;

/** Return what stands at the last visit at some places, as sayings; what was never said is not. */
export function copied(folded: Folded, whats: readonly string[]): Saying[] {
  return whats.flatMap((what) => {
    const value = valueAt(folded, what);
    return value === undefined || value === null ? [] : [{ what, value }];
  });
}

/** Return the crew of the last visit under keys of their own. */
export function copiedCrew(folded: Folded): Saying[] {
  return copied(folded, keysUnder(folded, "crew").map((key) => `crew/${key}`)).map(({ value }) => ({
    what: `crew/${newKey("c")}`,
    value,
  }));
}
