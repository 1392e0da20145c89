/**
 * Sync as a whole: this device and the server of its office come to hold the same entries. It runs
 * by itself while the page is looked at, and at once where there is a reason; a reading that is
 * being saved goes before.
 */

import { instant } from "../journal/entry.ts";
import { StoreTrouble, type Store } from "../journal/store_contract.ts";
import { alone } from "./alone.ts";
import { Client } from "./client.ts";
import type { About, Field } from "./contract.ts";
import { takeAlong } from "./field_kept.ts";
import { keepOffice, newOffice, officeKept, type OfficeKept } from "./office_kept.ts";
import { pause_s } from "./pauses.ts";
import { receive } from "./receiving.ts";
import type { Fetch } from "./request.ts";
import { OtherLineage, Run } from "./run.ts";
import { send } from "./sending.ts";
import { SyncTrouble } from "./trouble.ts";

/** What it needs from the page and the device; tests give others. */
export interface Around {
  readonly store: Store;
  readonly fetch: Fetch;
  readonly now: () => Date;
  readonly random: () => number;
  /** Whether the page is looked at and the browser knows of no reason why nothing can be reached. */
  readonly mayRun: () => boolean;
  readonly quiet: () => Promise<void>;
  /** Call something after so many milliseconds; returns how to call it off. */
  readonly after: (milliseconds: number, work: () => void) => () => void;
  readonly told: (told: Told) => void;
}

/** What a page hears. */
export type Told =
  /** What is remembered of the office is another now, null where this device is not paired. */
  | { readonly kind: "office"; readonly office: OfficeKept | null }
  | { readonly kind: "running"; readonly running: boolean }
  | { readonly kind: "trouble"; readonly trouble: SyncTrouble | StoreTrouble | null }
  /** Entries of a gauging came, or else more of it is known to be on the server. */
  | { readonly kind: "changed"; readonly gauging: string; readonly came: boolean }
  | { readonly kind: "awaited"; readonly photos: number }
  | { readonly kind: "field"; readonly field: Field };

export class Syncing {
  readonly #around: Around;
  #failures = 0;
  #running: Promise<void> | null = null;
  #again = false;
  #callOff: () => void = () => undefined;
  #stopped = false;

  constructor(around: Around) {
    this.#around = around;
  }

  /** Begin, if this device is paired. */
  async start(): Promise<void> {
    this.#tell({ kind: "office", office: await officeKept(this.#around.store) });
    await this.wake();
  }

  stop(): void {
    this.#stopped = true;
    this.#callOff();
  }

  /** There is a reason to sync now: a connection, somebody who looks, a gauging that was closed. */
  wake(): Promise<void> {
    if (this.#stopped || !this.#around.mayRun()) return Promise.resolve();
    return this.#sync(false);
  }

  /** Somebody asked: what was refused before is tried again, and whether it can be is not guessed. */
  syncNow(): Promise<void> {
    return this.#sync(true);
  }

  /** What serves this page, null where no server of an office does. SyncTrouble where none answers. */
  about(): Promise<About | null> {
    return new Client(this.#around.fetch).about();
  }

  /**
   * Pair this device by a code, or without one where nobody has to sign in; nothing is synced yet.
   * SyncTrouble where the server refuses.
   */
  async pair(code: string | null, name: string): Promise<void> {
    const { store, fetch } = this.#around;
    await this.#running;
    await alone(async () => {
      const client = new Client(fetch);
      const about = await client.about();
      if (about === null) throw new SyncTrouble("refused", "No office's server answers at this address.");
      const paired = await client.pair(code ?? (await client.newCode()), store.device, name);
      // What an archive held before says nothing of this one.
      await store.forgetServer();
      await this.#keep(newOffice({ ...paired, archive: about.archive }));
    }, true);
  }

  /** Forget the office; every gauging stays as it is. */
  async unpair(): Promise<void> {
    const { store, fetch } = this.#around;
    this.#callOff();
    await this.#running;
    await alone(async () => {
      const office = await officeKept(store);
      await this.#keep(null);
      this.#tell({ kind: "trouble", trouble: null });
      // The office can revoke a token that could not be given back.
      if (office !== null) await new Client(fetch, office.token).signOut().catch(() => undefined);
    }, true);
  }

  async #sync(asked: boolean): Promise<void> {
    if (this.#running !== null) {
      this.#again = true;
      return this.#running;
    }
    this.#callOff();
    this.#running = this.#runs(asked).finally(() => (this.#running = null));
    await this.#running;
  }

  async #runs(asked: boolean): Promise<void> {
    do {
      this.#again = false;
      await alone(() => this.#runOnce(asked), asked);
    } while (this.#again && this.#failures === 0);
    this.#waitForNext();
  }

  async #runOnce(asked: boolean): Promise<void> {
    const office = await officeKept(this.#around.store);
    this.#tell({ kind: "office", office });
    if (office === null || (office.revoked && !asked)) return;
    this.#tell({ kind: "running", running: true });
    try {
      await this.#run(asked ? { ...office, stuck: {} } : office);
      this.#failures = 0;
      this.#tell({ kind: "trouble", trouble: null });
    } catch (error) {
      await this.#failed(error);
    } finally {
      this.#tell({ kind: "running", running: false });
    }
  }

  async #run(office: OfficeKept): Promise<void> {
    const { store, fetch, quiet, now } = this.#around;
    const client = new Client(fetch, office.token);
    const changed = (gauging: string, came: boolean) =>
      this.#tell({ kind: "changed", gauging, came });
    const run = new Run({ store, client, quiet, changed }, office);
    try {
      await send(run, false);
      await receive(run);
      await send(run, true);
    } catch (error) {
      if (!(error instanceof OtherLineage)) throw error;
      await quiet();
      await store.forgetServer();
      return this.#run({ ...run.office, lineage: error.found, after: 0 });
    }
    const field = await takeAlong(run);
    if (field !== null) this.#tell({ kind: "field", field });
    const last = { at: instant(now()), sent: run.sent, received: run.received };
    await run.remember({ last, revoked: false });
    this.#tell({ kind: "awaited", photos: run.awaited.size });
    this.#tell({ kind: "office", office: run.office });
  }

  async #failed(error: unknown): Promise<void> {
    if (!(error instanceof SyncTrouble || error instanceof StoreTrouble)) throw error;
    this.#failures += 1;
    this.#tell({ kind: "trouble", trouble: error });
    const { store } = this.#around;
    const office = await officeKept(store).catch(() => null);
    if (office !== null && error.kind === "not signed in") {
      await this.#keep({ ...office, revoked: true }).catch(() => undefined);
    } else if (office !== null) this.#tell({ kind: "office", office });
  }

  #waitForNext(): void {
    this.#callOff();
    if (this.#stopped) return;
    const { random, after } = this.#around;
    this.#callOff = after(pause_s(this.#failures, random()) * 1000, () => void this.wake());
  }

  async #keep(office: OfficeKept | null): Promise<void> {
    await keepOffice(this.#around.store, office);
    this.#tell({ kind: "office", office });
  }

  #tell(told: Told): void {
    if (!this.#stopped) this.#around.told(told);
  }
}
