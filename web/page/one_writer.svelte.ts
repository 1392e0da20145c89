/** One tab writes to a gauging; another that opens it reads, and takes over when the first goes. */

export class OneWriter {
  /** Whether another tab on this device writes to the gauging. */
  elsewhere = $state(false);
  readonly #end: AbortController = new AbortController();
  #release: () => void = () => undefined;

  /** takeOver is called when this tab may write after it could not. */
  constructor(gauging: string, takeOver: () => void) {
    // Without locks (an old browser) both tabs write: entries unite, and conflicts are told.
    if (!("locks" in navigator)) return;
    const name = `bankside-gauging-${gauging}`;
    const held = new Promise<void>((resolve) => (this.#release = resolve));
    void navigator.locks.request(name, { ifAvailable: true }, async (lock) => {
      if (lock) {
        await held;
        return;
      }
      this.elsewhere = true;
      this.#await(name, held, takeOver);
    });
  }

  release(): void {
    this.#end.abort();
    this.#release();
  }

  #await(name: string, held: Promise<void>, takeOver: () => void): void {
    navigator.locks
      .request(name, { signal: this.#end.signal }, async () => {
        this.elsewhere = false;
        takeOver();
        await held;
      })
      .catch(() => undefined); // Given up while waiting: the gauging was closed in this tab.
  }
}
