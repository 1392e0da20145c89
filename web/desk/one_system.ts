/** Sentences of the office tell discharges and lengths in both systems; a page shows one of them. */

import type { System } from "./shown.ts";

const BOTH = /(-?[\d.]+ (?:m³\/s|m)) \((-?[\d.]+ (?:ft³\/s|ft))\)/g;

/** Return a sentence with every figure in one system: "0.700 m³/s (24.7 ft³/s)" as one of the two. */
export function inOneSystem(words: string, system: System): string {
  return words.replace(BOTH, system === "ft" ? "$2" : "$1");
}
