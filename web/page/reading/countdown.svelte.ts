/** The count-down as the screen shows it; it never stands in the way of an entry. */

import { Alarm } from "./alarm.ts";
import { counted, left, ranOut, type Run } from "./countdown.ts";

export interface Loudness {
  readonly sound: boolean;
  readonly vibration: boolean;
}

/** Often enough for seconds to look even. */
const TICK_MS = 200;
/** One for the page: a browser lets a page have few. */
const alarm = new Alarm();

export class Countdown {
  run: Run | null = $state.raw(null);
  #now = $state(0);
  readonly left: number | null = $derived(this.run === null ? null : left(this.run, this.#now));
  /** The seconds counted so far, null before the first; and what part of the time has passed. */
  readonly counted: number | null = $derived(counted(this.run, this.#now));
  readonly part: number = $derived(this.run === null ? 0 : (this.counted ?? 0) / this.run.seconds);
  readonly done: boolean = $derived(this.run !== null && ranOut(this.run, this.#now));

  readonly #clock: () => number;
  #timer: ReturnType<typeof setInterval> | undefined;
  #loudness: Loudness = { sound: false, vibration: false };

  constructor(clock: () => number = () => performance.now()) {
    this.#clock = clock;
  }

  /** Begin to count, from the start again if it runs; called by a tap, which lets the page sound. */
  start(seconds: number, place: string, loudness: Loudness): void {
    this.clear();
    this.#loudness = loudness;
    this.#now = this.#clock();
    this.run = { started: this.#now, seconds, place };
    this.#timer = setInterval(() => this.tick(), TICK_MS);
    if (loudness.sound) alarm.soundIn(seconds);
  }

  /** Stop counting, unless it is for the place where the crew is now. */
  goOnAt(place: string): void {
    if (this.run !== null && this.run.place !== place) this.clear();
  }

  /** Look at the clock: by the timer, and at once when the page is seen again. */
  tick(): void {
    if (this.run === null || this.done) return;
    this.#now = this.#clock();
    if (!this.done) return;
    clearInterval(this.#timer);
    if (this.#loudness.vibration) alarm.vibrate();
  }

  /** Return the seconds to keep with a velocity called now, and stop counting. */
  take(): number | null {
    const seconds = counted(this.run, this.#clock());
    this.clear();
    return seconds;
  }

  clear(): void {
    clearInterval(this.#timer);
    alarm.hush();
    this.run = null;
  }
}
