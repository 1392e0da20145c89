/** One tab writes to a gauging; another that opens it reads, and takes over when a person says so. */

import { holdGauging, type Held } from "../journal/hold.ts";

export class OneWriter {
  /** Whether another tab on this device writes to the gauging, so that this one only reads. */
  elsewhere = $state(false);
  /** Whether that other tab is gone, so that nobody writes until one takes over. */
  free = $state(false);
  readonly #gauging: string;
  readonly #onSettled: () => void;
  #hold: Held | null = null;
  #takingOver: Promise<void> | null = null;
  #released = false;

  /** `onSettled` is called each time that it is settled who writes: read what came until then. */
  constructor(gauging: string, onSettled: () => void) {
    this.#gauging = gauging;
    this.#onSettled = onSettled;
    void this.#take(false);
  }

  /** Write here from now on; the other tab, if it is still there, turns to reading. */
  takeOver(): Promise<void> {
    this.#takingOver ??= this.#take(true).finally(() => (this.#takingOver = null));
    return this.#takingOver;
  }

  release(): void {
    this.#released = true;
    this.#hold?.release();
  }

  async #take(anyway: boolean): Promise<void> {
    this.#hold?.release();
    const hold = await holdGauging(this.#gauging, anyway);
    this.#hold = hold;
    this.elsewhere = !hold.held;
    this.free = false;
    if (this.#released) return hold.release();
    void hold.turned.then(() => this.#turn(hold));
    this.#onSettled();
  }

  #turn(hold: Held): void {
    if (hold !== this.#hold) return;
    if (hold.held) void this.#take(false);
    else this.free = true;
  }
}
