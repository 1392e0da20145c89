/** Who writes to a gauging: one tab of the device at a time, by a lock that goes with the tab. */

export interface Held {
  /** Whether this tab has the gauging; the others then only read. */
  readonly held: boolean;
  /**
   * Resolves when that ends. Held: another tab took it. Not held: the tab that had it is gone, and
   * it may be taken. Never after a release.
   */
  readonly turned: Promise<void>;
  release(): void;
}

/**
 * Take a gauging if no other tab has it; with `anyway` take it from another, which turns to
 * reading. Two writers would do no harm to what is kept, since entries unite: so a browser without
 * locks gives it to every tab.
 */
export function holdGauging(gauging: string, anyway = false): Promise<Held> {
  const locks = (navigator as { readonly locks?: LockManager }).locks;
  const name = `bankside-gauging-${gauging}`;
  return new Promise((answer) => {
    let turn: () => void;
    const turned = new Promise<void>((resolve) => (turn = resolve));
    if (locks === undefined) {
      answer({ held: true, turned, release: () => undefined });
      return;
    }
    locks
      .request(name, anyway ? { steal: true } : { ifAvailable: true }, (lock) => {
        if (lock !== null) {
          return new Promise<void>((release) => answer({ held: true, turned, release }));
        }
        const waiting = new AbortController();
        // Shared, so that all tabs that wait hear of it; given back at once: a person takes over.
        locks
          .request(name, { mode: "shared", signal: waiting.signal }, () => turn())
          .catch(() => undefined);
        answer({ held: false, turned, release: () => waiting.abort() });
        return undefined;
      })
      // A lock that another tab takes away ends in a rejection.
      .catch(() => turn());
  });
}
