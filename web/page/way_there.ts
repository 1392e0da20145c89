/** Where the planned section is from here, in words. */

import { distance_m, type Fix } from "./position_mean.ts";

type Place = Pick<Fix, "lon" | "lat">;

export interface WayThere {
  readonly words: string;
  /** Whether it is so far that it may be another site. */
  readonly far: boolean;
}

const WINDS = [
  "north",
  "north-east",
  "east",
  "south-east",
  "south",
  "south-west",
  "west",
  "north-west",
] as const;
/** Farther than this, and than what the receiver leaves open, it is asked about. Ours, no source. */
const FAR_M = 100;

/** Return how to get from here to the planned section; `accuracy_m` is how far off "here" may be. */
export function wayThere(here: Place, planned: Place, accuracy_m: number | undefined): WayThere {
  const away_m = distance_m(here, planned);
  const off = accuracy_m === undefined ? "" : ` ± ${accuracy_m.toFixed(0)} m`;
  if (away_m <= Math.max(accuracy_m ?? 0, 1)) {
    return { words: `At the planned section, as far as can be told: ${metres(away_m)} from it${off}.`, far: false };
  }
  const far = away_m > Math.max(FAR_M, 3 * (accuracy_m ?? 0));
  const way = `The planned section is ${metres(away_m)}${off} to the ${windTo(here, planned)} of here.`;
  return { words: far ? `${way} Is this the right site?` : way, far };
}

/** Return a distance as people say it: to the metre, from a kilometre on to a tenth of one. */
export function metres(away_m: number): string {
  return away_m < 999.5 ? `${away_m.toFixed(0)} m` : `${(away_m / 1000).toFixed(1)} km`;
}

function windTo(here: Place, there: Place): (typeof WINDS)[number] {
  const east = distance_m(here, { lon: there.lon, lat: here.lat });
  const north = there.lat - here.lat >= 0 ? 1 : -1;
  const up = north * distance_m(here, { lon: here.lon, lat: there.lat });
  const right = ((there.lon - here.lon + 540) % 360) - 180 >= 0 ? east : -east;
  const turn = (Math.atan2(right, up) / (2 * Math.PI)) * WINDS.length;
  return WINDS[(Math.round(turn) + WINDS.length) % WINDS.length]!;
}
