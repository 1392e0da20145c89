/** One tab writes to a gauging; another that opens it reads, and takes over when a person says so. */

import { holdGauging, type Held } from "../journal/hold.ts";

export class OneWriter {
  /** Whether another tab on this device writes to the gauging, so that this one only reads. */
  elsewhere = $state(false);
  /** Whether that other tab is gone, so that nobody writes until one takes over. */
  free = $state(false);
  readonly #gauging: string;
  readonly #onTakeOver: () => void;
  #hold: Held | null = null;
  #takingOver: Promise<void> | null = null;
  #released = false;

  /** `onTakeOver` is called when this tab may write after it could not: read what came meanwhile. */
  constructor(gauging: string, onTakeOver: () => void) {
    this.#gauging = gauging;
    this.#onTakeOver = onTakeOver;
    void this.#take(false);
  }

  /** Write here from now on; the other tab, if it is still there, turns to reading. */
  takeOver(): Promise<void> {
    this.#takingOver ??= this.#take(true).then(() => {
      this.#takingOver = null;
      this.#onTakeOver();
    });
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
    if (this.#released) hold.release();
    else void hold.turned.then(() => this.#turn(hold));
  }

  #turn(hold: Held): void {
    if (hold !== this.#hold) return;
    if (hold.held) void this.#take(false);
    else this.free = true;
  }
}
