/** Leaves that drift down a section, in real time: they go as fast as the surface does. */

import { Laid } from "./along_laid.ts";
import type { SectionView } from "./contract.ts";
import { numbersFrom } from "./seeded.ts";

/** How long leaves are watched, in s (ours). */
export const LONGEST = 20;
/** How many leaves are thrown in from bank to bank (ours). */
const LEAVES = 16;

export interface Leaf {
  readonly at: number;
  /** Where it begins, from the picture's beginning on, as a part of what is seen. */
  readonly begin: number;
  /** m/s of the surface down the stream; below 0 where the water runs back. */
  readonly speed: number;
}

/** Return the leaves of a section, always the same for a number; none where it is dry. */
export function leavesOf(section: SectionView, seed: number): readonly Leaf[] {
  const next = numbersFrom(seed + 5);
  return Array.from({ length: LEAVES }, (_, i) => {
    const at = (i + 0.2 + 0.6 * next()) / LEAVES;
    const place = section.face[Math.min(section.face.length - 1, Math.floor(at * section.face.length))]!;
    const speed = place.speed * Math.cos((place.angle * Math.PI) / 180);
    return { at, begin: next(), speed, dry: place.dry };
  }).filter(({ dry }) => !dry);
}

/** Return where the leaves are after so many seconds, and how large they look, in pixels. */
export function placesOf(
  section: SectionView,
  leaves: readonly Leaf[],
  seconds: number,
): readonly { readonly x: number; readonly y: number; readonly r: number }[] {
  const laid = new Laid(section);
  const { near, far, perMetre } = laid.camera;
  return leaves.map(({ at, begin, speed }) => {
    const gone = begin * (far - near) + speed * seconds;
    // Whatever leaves the picture comes in again where the water comes from.
    const away = near + gone - (far - near) * Math.floor(gone / (far - near));
    const [x, y] = laid.spot(at, away);
    return { x, y, r: Math.max(1.6, LEAF * perMetre(away)) };
  });
}

/** Half the length of a leaf as it is drawn, in m (ours: leaves as they are could not be seen). */
const LEAF = 0.07;
