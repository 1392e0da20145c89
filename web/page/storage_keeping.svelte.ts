/** Whether the browser may clear what this device holds, and what a person can do about it. */

export type StorageState = "not asked" | "kept" | "may be cleared";

const INSTALL_HINT =
  "Put Bankside on the Home Screen before the first reading: tap Share, then Add to Home Screen. " +
  "Safari clears what a page has stored after seven days of use without it; the app on the Home " +
  "Screen is spared that, and has a store of its own.";

export class StorageKeeping {
  state: StorageState = $state("not asked");
  /** What to do before the first reading, on devices that forget what a page has stored. */
  readonly installHint: string | null = forgetsPages() ? INSTALL_HINT : null;
  #asked = false;

  constructor() {
    void this.#see();
  }

  /**
   * Ask the browser to keep what is stored; to be called at every save and import, it asks once a
   * page. The answer is the browser's to keep: it is read anew at every start.
   */
  async askToKeep(): Promise<void> {
    if (this.#asked || this.state === "kept") return;
    this.#asked = true;
    const granted = (await navigator.storage?.persist?.()) ?? false;
    this.state = granted ? "kept" : "may be cleared";
  }

  async #see(): Promise<void> {
    if (await navigator.storage?.persisted?.()) this.state = "kept";
  }
}

/** Safari on a phone or tablet, unless it runs from the Home Screen. */
function forgetsPages(): boolean {
  const { userAgent, maxTouchPoints } = navigator;
  // A tablet says that it is a Macintosh, and no Macintosh has a touch screen.
  const apple = /iPhone|iPad|iPod/.test(userAgent) || (/Macintosh/.test(userAgent) && maxTouchPoints > 1);
  return apple && !matchMedia("(display-mode: standalone)").matches;
}

export function createStorageKeeping(): StorageKeeping {
  return new StorageKeeping();
}
