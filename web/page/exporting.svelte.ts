/** Exporting a gauging as a file, and remembering that it left the device only once it did. */

import type { Entry } from "../journal/entry.ts";
import { journalFile, type Computed, type JournalFile } from "../journal/export.ts";
import { StoreTrouble, type Store } from "../journal/store_contract.ts";
import type { Engine } from "./engine_contract.ts";
import type { OpenGauging } from "./gauging.svelte.ts";
import { handOver } from "./hand_over.ts";

export type ExportState = "idle" | "making" | "asking" | "done";

export class Exporting {
  state: ExportState = $state("idle");
  /** What went wrong, in one sentence. */
  trouble: string | null = $state(null);
  name = $state("");
  /** How many photos were not on this device, so that the file lacks them. */
  missing = $state(0);
  /** How many photos could not be read, so that the file does not count as an export. */
  unreadable = $state(0);
  readonly #store: Store;
  #file: JournalFile | null = null;

  constructor(store: Store) {
    this.#store = store;
  }

  /** Make the file of these entries and hand it over; to be called on a person's press. */
  async export(entries: readonly Entry[], computed?: Computed): Promise<void> {
    if (entries.length === 0) return;
    this.state = "making";
    this.trouble = null;
    this.missing = this.unreadable = 0;
    try {
      const file = await journalFile(entries, (sha256) => this.#store.file(sha256), computed);
      this.#file = file;
      this.name = file.name;
      const how = await handOver(file.blob, file.name);
      if (how === "given up") {
        this.state = "idle";
        return;
      }
      this.missing = file.missing;
      this.unreadable = file.unreadable;
      // Once it counts it may be removed from here, with the photos that the file lacks.
      if (file.unreadable > 0) this.state = "idle";
      else if (how === "arrived") await this.arrived();
      else this.state = "asking";
    } catch (error) {
      this.state = "idle";
      this.trouble = `The file could not be made (${String(error)}).`;
    }
  }

  /** The file is where it should be, by the browser's word or the person's. */
  async arrived(): Promise<void> {
    const file = this.#file;
    if (file === null) return;
    this.state = "done";
    try {
      await this.#store.mark(file.gauging, "exported", file.entryIds);
    } catch (error) {
      if (!(error instanceof StoreTrouble)) throw error;
      // The file is there; only this device will not know of it.
      this.trouble = `The file is kept, but not that it was exported: ${error.message}`;
    }
  }

  /** The person says that the file did not arrive. */
  notArrived(): void {
    this.state = "idle";
  }
}

/** Return what the engine made of exactly the present entries, undefined where it lags or is off. */
export function computedOf(gauging: OpenGauging, engine: Engine): Computed | undefined {
  const { view } = gauging;
  if (view === null || !gauging.fresh || engine.about === null) {
    return undefined;
  }
  const { result } = view;
  const shown = result && {
    discharge_m3s: result.discharge_m3s,
    method_version: result.method_version,
    version: engine.about.version,
  };
  return { record: view.record, shown };
}
