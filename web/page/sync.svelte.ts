/** Sync as the page sees it: whether this device is paired, what waits, what is wrong. */

import type { Store } from "../journal/store_contract.ts";
import type { About, Field } from "../sync/contract.ts";
import { fieldKept } from "../sync/field_kept.ts";
import type { Fetch } from "../sync/request.ts";
import type { OfficeKept } from "../sync/office_kept.ts";
import { Syncing, type Told } from "../sync/syncing.ts";
import { SyncTrouble } from "../sync/trouble.ts";
import { sentence } from "./sentence.ts";

/** What it needs from the page; tests give others. */
export interface SyncOptions {
  readonly store: Store;
  readonly fetch: Fetch;
  /** Whether a reading is being saved just now. */
  readonly saving: () => boolean;
  /** Called when entries of a gauging came. */
  readonly came: (gauging: string) => void;
}

/** Milliseconds between two looks at whether a reading is saved. */
const LOOK_EVERY = 50;

export class Sync {
  /** What this device remembers of its office, null while it is not paired. */
  kept: OfficeKept | null = $state.raw(null);
  running = $state(false);
  /** Why the last run did not come to its end, in one sentence; null where it did. */
  trouble: string | null = $state(null);
  /** Whether that is for want of a connection alone. */
  unreachable = $state(false);
  /** Photos that another device has and the server has not. */
  awaited = $state(0);
  /** What was taken along; null where nothing was, or before it was read. */
  field: Field | null = $state.raw(null);
  /** How often something came, or came to be on the server: what shows that looks again. */
  changes = $state(0);
  readonly #options: SyncOptions;
  readonly #syncing: Syncing;
  readonly #leave: (() => void)[] = [];

  constructor(options: SyncOptions) {
    this.#options = options;
    this.#syncing = new Syncing({
      store: options.store,
      fetch: options.fetch,
      now: () => new Date(),
      random: Math.random,
      mayRun: () => document.visibilityState === "visible" && navigator.onLine,
      quiet: () => this.#quiet(),
      after: (milliseconds, work) => {
        const timer = setTimeout(work, milliseconds);
        return () => clearTimeout(timer);
      },
      told: (told) => this.#hear(told),
    });
  }

  /** Read what is remembered, and begin to sync where this device is paired. */
  async start(): Promise<void> {
    this.#wakeOn(window, "online");
    this.#wakeOn(window, "pageshow");
    this.#wakeOn(document, "visibilitychange");
    try {
      this.field = await fieldKept(this.#options.store);
    } catch {
      // The store tells of its troubles where something is to be saved.
    }
    await this.#syncing.start().catch((error: unknown) => this.#fail(error));
  }

  stop(): void {
    this.#syncing.stop();
    for (const leave of this.#leave) leave();
  }

  /** There is a reason to sync now. */
  wake(): void {
    if (this.kept !== null) void this.#syncing.wake().catch((error: unknown) => this.#fail(error));
  }

  async syncNow(): Promise<void> {
    await this.#syncing.syncNow().catch((error: unknown) => this.#fail(error));
  }

  /** What serves this page, null where no server of an office does; Error where none answers. */
  about(): Promise<About | null> {
    return this.#syncing.about();
  }

  /** Pair this device by a code, null where none is needed; Error with the reason where it is not. */
  async pair(code: string | null, name: string): Promise<void> {
    await this.#syncing.pair(code, name);
    void this.syncNow();
  }

  async unpair(): Promise<void> {
    await this.#syncing.unpair();
    [this.awaited, this.trouble, this.unreachable] = [0, null, false];
  }

  #hear(told: Told): void {
    if (told.kind === "office") this.kept = told.office;
    else if (told.kind === "running") this.running = told.running;
    else if (told.kind === "awaited") this.awaited = told.photos;
    else if (told.kind === "field") this.field = told.field;
    else if (told.kind === "changed") {
      this.changes += 1;
      if (told.came) this.#options.came(told.gauging);
    } else {
      const { trouble } = told;
      this.trouble = trouble === null ? null : trouble.message;
      this.unreachable = trouble instanceof SyncTrouble && trouble.kind === "unreachable";
    }
  }

  #fail(error: unknown): void {
    this.trouble = `Something failed while syncing (${sentence(error)}).`;
    this.unreachable = false;
  }

  async #quiet(): Promise<void> {
    while (this.#options.saving()) await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY));
  }

  #wakeOn(target: EventTarget, name: string): void {
    const wake = () => this.wake();
    target.addEventListener(name, wake);
    this.#leave.push(() => target.removeEventListener(name, wake));
  }
}
