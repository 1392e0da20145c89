/** The line of the water along a rod or across a tape: ripple about the level that is to be read. */

export interface Ripple {
  /** How far it goes up and down, in pixels. */
  readonly height: number;
  /** Where it begins, from 0 to 1, so that no two pictures move alike. */
  readonly phase: number;
  /** How far water piles up before the rod and falls behind it, in pixels; 0 where there is none. */
  readonly pileUp: number;
}

/** Whole waves on the picture: their mean over it is 0 at every moment. */
const WAVES = [2, 5] as const;
const PARTS = [0.7, 0.3] as const;
/** How long each takes to pass, in seconds (assumed: as short waves of a stream look). */
const PERIODS = [1.9, 0.8] as const;

/** How many points the line has. */
export const POINTS = 121;

/**
 * Return how far the line lies off the level at each of `POINTS` evenly spaced points, in pixels.
 *
 * The first and the last point are one wave apart, so the mean without the last is 0: what is to
 * be read is the middle of the ripple, whatever moment is drawn.
 */
export function offsets({ height, phase, pileUp }: Ripple, seconds: number): readonly number[] {
  return Array.from({ length: POINTS }, (_, i) => {
    const along = i / (POINTS - 1);
    const waves = WAVES.map((count, k) => {
      const turn = count * along - seconds / PERIODS[k]! + phase;
      return PARTS[k]! * height * Math.sin(2 * Math.PI * turn);
    });
    return waves[0]! + waves[1]! + pileUp * hump(along);
  });
}

/** Up before the middle and as far down behind it, gone at the picture's ends. */
function hump(along: number): number {
  const away = (along - 0.5) / 0.09;
  return -1.65 * away * Math.exp(-0.5 * away * away);
}
