/** Sentences of the office tell discharges and lengths in both systems; a page shows one of them. */

import { figures, MILE2_KM2, type System } from "./shown.ts";

const BOTH = /(-?[\d.]+ (?:m³\/s|m)) \((-?[\d.]+ (?:ft³\/s|ft))\)/g;
const AREA = /([\d.]+) km²/g;

/**
 * Return a sentence with every figure in one system: "0.700 m³/s (24.7 ft³/s)" as one of the two, and
 * an area that is drained, which the office tells in km², to as many figures.
 */
export function inOneSystem(words: string, system: System): string {
  const told = words.replace(BOTH, system === "ft" ? "$2" : "$1");
  return system === "m" ? told : told.replace(AREA, (_, km2: string) => `${figures(Number(km2) / MILE2_KM2)} mi²`);
}
