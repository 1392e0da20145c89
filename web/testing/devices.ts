/** Several devices beside each other in tests, each with storage of its own; they may be killed. */

import "fake-indexeddb/auto";

import { IDBFactory } from "fake-indexeddb";

import { openStore } from "../journal/store.ts";
import type { Store } from "../journal/store_contract.ts";
import type { Fetch } from "../sync/request.ts";
import { Syncing, type Told } from "../sync/syncing.ts";

/** What stands for the end of a page that was killed: no code of its own is told of that. */
const NEVER = new Promise<never>(() => undefined);

export class Device {
  readonly told: Told[] = [];
  /** The pauses that were waited for, in milliseconds, and the methods of the store that sync called. */
  readonly pauses: number[] = [];
  readonly calls: string[] = [];
  mayRun = true;
  quiet: Promise<void> = Promise.resolve();
  store!: Store;
  syncing!: Syncing;
  /** After so many more calls of the store or of the network the page is dead. */
  livesFor = Infinity;
  readonly #disk = new IDBFactory();
  readonly #fetch: Fetch;
  readonly #random: () => number;
  #opened: Store | null = null;
  #died: () => void = () => undefined;
  /** Resolved when the page is dead. */
  dead: Promise<void> = NEVER;

  constructor(fetched: Fetch, random: () => number = () => 0.5) {
    this.#fetch = fetched;
    this.#random = random;
  }

  /** Open the app, as after a start of the device or after the page was killed. */
  async open(): Promise<this> {
    this.close();
    this.livesFor = Infinity;
    this.dead = new Promise((died) => (this.#died = died));
    globalThis.indexedDB = this.#disk;
    const opened = await openStore(() => undefined);
    this.#opened = opened;
    this.store = new Proxy(opened, {
      get: (store, name) => {
        const found = Reflect.get(store, name, store) as unknown;
        if (typeof found !== "function") return found;
        return (...given: unknown[]) => {
          this.calls.push(String(name));
          return this.#goOn(() => found.apply(store, given) as unknown);
        };
      },
    });
    this.syncing = new Syncing({
      store: this.store,
      fetch: (address, options) => this.#goOn(() => this.#fetch(address, options)) as never,
      now: () => new Date("2026-07-14T17:12:03.250Z"),
      random: this.#random,
      mayRun: () => this.mayRun,
      quiet: () => this.quiet,
      after: (milliseconds) => {
        this.pauses.push(milliseconds);
        return () => undefined;
      },
      told: (told) => this.told.push(told),
    });
    return this;
  }

  close(): void {
    this.#opened?.close();
    this.#opened = null;
  }

  /** Sync until that has ended, or the page is dead. */
  async sync(): Promise<void> {
    await Promise.race([this.syncing.syncNow(), this.dead]);
  }

  /** The last that was told of a kind. */
  last<K extends Told["kind"]>(kind: K): Extract<Told, { kind: K }> | undefined {
    return this.told.findLast((told) => told.kind === kind) as Extract<Told, { kind: K }> | undefined;
  }

  #goOn(work: () => unknown): unknown {
    if (this.livesFor === Infinity) return work();
    this.livesFor -= 1;
    if (this.livesFor > 0) return work();
    this.#died();
    // The call may have gone out before the end, or not.
    if (this.#random() < 0.5) void Promise.resolve(work()).catch(() => undefined);
    return NEVER;
  }
}
