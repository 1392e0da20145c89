/** The mean of several fixes of a receiver, each counted by how sure the receiver was of it. */

export interface Fix {
  readonly lon: number;
  readonly lat: number;
  /** How far off it may be, as the receiver said. */
  readonly accuracy_m: number;
}

export interface MeanFix extends Fix {
  readonly fixes: number;
}

/**
 * Return the mean, weighted by 1/accuracy²; null of no fixes. Its accuracy is the mean of what the
 * receiver said, weighted alike: fixes of a few minutes share most of their error, so that many of
 * them make the position steadier and not as much surer as independent ones would.
 */
export function meanFix(fixes: readonly Fix[]): MeanFix | null {
  const first = fixes[0];
  if (first === undefined) return null;
  let [weights, lon, lat, accuracy] = [0, 0, 0, 0];
  for (const fix of fixes) {
    const weight = 1 / Math.max(fix.accuracy_m, 0.1) ** 2;
    weights += weight;
    // From the first one on, the short way round, so that the 180th meridian does no harm.
    lon += weight * (((fix.lon - first.lon + 540) % 360) - 180);
    lat += weight * (fix.lat - first.lat);
    accuracy += weight * fix.accuracy_m;
  }
  return {
    lon: wrapped(first.lon + lon / weights),
    lat: first.lat + lat / weights,
    accuracy_m: accuracy / weights,
    fixes: fixes.length,
  };
}

/** Return the distance between two positions in metres, on a sphere; good to 1 %. */
export function distance_m(a: Pick<Fix, "lon" | "lat">, b: Pick<Fix, "lon" | "lat">): number {
  const rad = Math.PI / 180;
  const x = (((b.lon - a.lon + 540) % 360) - 180) * rad * Math.cos(((a.lat + b.lat) / 2) * rad);
  return 6_371_000 * Math.sqrt(x * x + ((b.lat - a.lat) * rad) ** 2);
}

function wrapped(lon: number): number {
  return lon > 180 ? lon - 360 : lon < -180 ? lon + 360 : lon;
}
