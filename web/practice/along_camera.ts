/** How a section is seen by somebody who stands upstream of it and looks down the stream. */

/** The picture, in its own pixels. */
export const WIDE = 340;
export const TALL = 200;
export const HORIZON = 36;

/** How large a metre is at a distance of a metre, in pixels: what a pair of eyes takes in (ours). */
const FOCUS = 245;
/** The tape line lies as far as this, and the eye as high, in widths: every stream fills its picture. */
const AWAY = 0.9;
const EYE = 0.3;
/** A narrower stream fills less of its picture, so that a person beside it has room; in m. */
const NARROWEST = 4.5;
/** Where the picture begins and where details end, in distances of the tape line. */
const NEAR = 0.49;
const FAR = 2.2;

export type Spot = readonly [number, number];

export interface Camera {
  /** Distances from the eye in m: where the picture begins, of the tape line, where details end. */
  readonly near: number;
  readonly tape: number;
  readonly far: number;
  /** Pixels to a metre across the picture, at a distance. */
  readonly perMetre: (distance: number) => number;
  /** Where a point lies: metres right of the middle, above the water, and away from the eye. */
  readonly spot: (across: number, above: number, away: number) => Spot;
}

export function cameraFor(width_m: number): Camera {
  const width = Math.max(width_m, NARROWEST);
  const [tape, eye] = [AWAY * width, EYE * width];
  const perMetre = (distance: number): number => FOCUS / distance;
  return {
    near: NEAR * tape,
    tape,
    far: FAR * tape,
    perMetre,
    spot: (across, above, away) => [
      WIDE / 2 + across * perMetre(away),
      HORIZON + (eye - above) * perMetre(away),
    ],
  };
}

/** Return the points of a line or an outline as SVG writes them. */
export function points(spots: readonly Spot[]): string {
  return spots.map(([x, y]) => `${x.toFixed(1)},${y.toFixed(1)}`).join(" ");
}
