/** A section laid out before the eye: where a place across it lies, at the tape line and elsewhere. */

import { cameraFor, points, type Camera, type Spot } from "./along_camera.ts";
import type { FacePlace, SectionView, Stretch } from "./contract.ts";

export class Laid {
  readonly camera: Camera;
  readonly #width: number;
  readonly #turn: Spot;

  constructor(section: SectionView) {
    this.camera = cameraFor(section.width_m);
    this.#width = section.width_m;
    const wet = section.face.filter(({ dry }) => !dry);
    this.#turn = [turnOf(wet.slice(0, 6)), turnOf(wet.slice(-6))];
  }

  /** Metres right of the middle at the tape line. */
  across(at: number): number {
    return (at - 0.5) * this.#width;
  }

  /** As `across`, at a distance: the stream runs on as it runs at its banks. */
  drawnOut(at: number, away: number): number {
    const [left, right] = this.#turn;
    const along = Math.min(away, this.camera.far) - this.camera.tape;
    return this.across(at) + (left + (right - left) * at) * along;
  }

  spot(at: number, away: number, above = 0): Spot {
    return this.camera.spot(this.drawnOut(at, away), above, away);
  }

  /** An outline of a stretch across the stream from one distance to another. */
  outline([from, to]: Stretch, near: number, far: number): string {
    return points([this.spot(from, near), this.spot(to, near), this.spot(to, far), this.spot(from, far)]);
  }
}

function turnOf(places: readonly FacePlace[]): number {
  const mean = places.reduce((sum, { angle }) => sum + angle, 0) / (places.length || 1);
  return Math.tan((mean * Math.PI) / 180);
}
