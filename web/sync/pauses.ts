/** How long sync waits before it tries by itself: longer after each failure, never the same twice. */

const FIRST_S = 5;
/** The longest wait after failures, and the usual one between runs that went well. */
export const LONGEST_S = 300;

/**
 * Return the seconds to wait after so many failures in a row; after none, until the next run. A
 * part of it is chance, `random` from 0 up to 1, so that the devices of a crew that comes back
 * into the network together do not ask all at once.
 */
export function pause_s(failures: number, random: number): number {
  const most = failures === 0 ? LONGEST_S : Math.min(LONGEST_S, FIRST_S * 2 ** (failures - 1));
  return most * (0.5 + random / 2);
}
