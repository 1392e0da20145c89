/** One run of sync: what it works with, and what it has come to so far. */

import type { Entry } from "../journal/entry.ts";
import type { Store } from "../journal/store_contract.ts";
import type { Client } from "./client.ts";
import { keepOffice, type OfficeKept, type Stuck } from "./office_kept.ts";

export interface Surroundings {
  readonly store: Store;
  readonly client: Client;
  /** Resolves once no reading is being saved: nothing is read or written beside one. */
  readonly quiet: () => Promise<void>;
  /** Called when entries of a gauging came, or else more of it is known to be on the server. */
  readonly changed: (gauging: string, came: boolean) => void;
}

/** The archive was put back from a backup, or is another one: nothing is known of what it holds. */
export class OtherLineage extends Error {
  override readonly name = "OtherLineage";
  readonly found: string;
  constructor(found: string) {
    super(`another lineage than was known (${found})`);
    this.found = found;
  }
}

export class Run {
  readonly store: Store;
  readonly client: Client;
  readonly quiet: () => Promise<void>;
  readonly changed: (gauging: string, came: boolean) => void;
  sent = 0;
  received = 0;
  /** The photos that are neither on the server nor here: another device has them. */
  readonly awaited = new Set<string>();
  #office: OfficeKept;

  constructor(around: Surroundings, office: OfficeKept) {
    this.store = around.store;
    this.client = around.client;
    this.quiet = around.quiet;
    this.changed = around.changed;
    this.#office = office;
  }

  get office(): OfficeKept {
    return this.#office;
  }

  /** Go on only where an answer is about the archive as it was known. */
  requireLineage(found: string): void {
    if (found !== this.#office.lineage) throw new OtherLineage(found);
  }

  /** Remember more of the office, on the device before anything goes on. */
  async remember(changed: Partial<OfficeKept>): Promise<void> {
    this.#office = { ...this.#office, ...changed };
    await this.quiet();
    await keepOffice(this.store, this.#office);
  }

  /**
   * Remember that gaugings are here, before anything of them can be on the server: so it is known
   * of one that is gone that somebody removed it.
   */
  async see(gaugings: readonly string[]): Promise<void> {
    const fresh = gaugings.filter((gauging) => !this.#office.seen.includes(gauging));
    if (fresh.length > 0) await this.remember({ seen: [...this.#office.seen, ...fresh] });
  }

  /** Remember what the server does not take, or what differs from what it sent. */
  async stick(stuck: { readonly [id: string]: Stuck }): Promise<void> {
    if (Object.keys(stuck).length === 0) return;
    await this.remember({ stuck: { ...this.#office.stuck, ...stuck } });
  }

  /** Remember that entries are on the server, and the photos that they name. */
  async markSent(gauging: string, entries: readonly Entry[]): Promise<void> {
    await this.quiet();
    await this.store.mark(gauging, "on the server", entries.map(({ id }) => id));
    this.changed(gauging, false);
  }
}
