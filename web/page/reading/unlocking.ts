/**
 * The act that opens locked keys: three keys far apart on the glass, tapped in turn, a tap anywhere
 * else starting over. Drops that lie still, hold or come as many fingers at once get nowhere with
 * it; a hand can take as long over it as it needs, and nothing has to be held.
 */

export const UNLOCKING_KEYS = [1, 2, 3] as const;

/** Return how many keys count as tapped in turn after one more tap: `key` is null for none of them. */
export function tappedAfter(tapped: number, key: number | null): number {
  if (key === tapped + 1) return key;
  // A hand that shakes taps twice.
  if (key === tapped) return tapped;
  return key === 1 ? 1 : 0;
}

export function unlocks(tapped: number): boolean {
  return tapped === UNLOCKING_KEYS.length;
}
