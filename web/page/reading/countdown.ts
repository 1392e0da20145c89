/**
 * The count-down of an exposure, on a clock that only runs forward: setting the device's time does
 * not touch it, and a page that was hidden finds on its return how much has passed.
 */

export interface Run {
  /** When it was started, in milliseconds of performance.now. */
  readonly started: number;
  readonly seconds: number;
  /** Where the meter is: what was counted there says nothing of a velocity elsewhere. */
  readonly place: string;
}

/** Return the whole seconds that passed, the exposure's at most. */
export function elapsed(run: Run, now: number): number {
  return Math.min(run.seconds, Math.max(0, Math.floor((now - run.started) / 1000)));
}

/** Return the seconds left as they are shown: 40 at the start, 0 only when it has run out. */
export function left(run: Run, now: number): number {
  return run.seconds - elapsed(run, now);
}

export function ranOut(run: Run, now: number): boolean {
  return left(run, now) === 0;
}

/** Return the seconds to keep with a velocity: none where nothing was counted. */
export function counted(run: Run | null, now: number): number | null {
  return run === null ? null : elapsed(run, now) || null;
}
