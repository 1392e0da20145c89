/**
 * Where a transcription is kept: on this device first, so that no press is lost, and then in the
 * office's archive. What the office has not got yet is tried again with the next figure.
 */

import type { Entry } from "../../journal/entry.ts";
import type { Store, StoredFile } from "../../journal/store_contract.ts";
import { sentence } from "../../page/sentence.ts";
import type { Office } from "../asking/office.ts";

/** What it needs of the office. */
export type Archive = Pick<Office, "push" | "putFile">;

export class PaperKeeping {
  /** Whether the archive has everything that was typed. */
  whole = $state(true);
  /** Why it has not, in one sentence; null while it is on its way. */
  trouble: string | null = $state(null);
  readonly #local: Store;
  readonly #office: Archive;
  readonly #gauging: string;
  #waiting: readonly Entry[];
  /** Files whose entries wait for them: an entry never names a file that the archive lacks. */
  #files: readonly StoredFile[] = [];
  #pushing: Promise<void> | null = null;

  /** waiting: entries on this device that are not known to be in the archive. */
  constructor(local: Store, office: Archive, gauging: string, waiting: readonly Entry[]) {
    this.#local = local;
    this.#office = office;
    this.#gauging = gauging;
    this.#waiting = waiting;
    if (waiting.length > 0) void this.push();
  }

  /** The store that an open gauging writes to. */
  get store(): Pick<Store, "device" | "append" | "putFile"> {
    return {
      device: this.#local.device,
      append: async (entries) => {
        const added = await this.#local.append(entries);
        this.#waiting = [...this.#waiting, ...entries];
        void this.push();
        return added;
      },
      putFile: async (file) => {
        await this.#local.putFile(file);
        this.#files = [...this.#files, file];
      },
    };
  }

  /** Hand everything that waits to the archive; resolves when it is there, or is known not to be. */
  push(): Promise<void> {
    this.whole = false;
    this.#pushing ??= this.#pushAll().finally(() => (this.#pushing = null));
    return this.#pushing;
  }

  async #pushAll(): Promise<void> {
    try {
      while (this.#waiting.length > 0 || this.#files.length > 0) {
        const [entries, files] = [this.#waiting, this.#files];
        for (const { sha256, type, bytes } of files) await this.#office.putFile(sha256, type, bytes);
        this.#files = this.#files.slice(files.length);
        await this.#office.push(entries);
        this.#waiting = this.#waiting.slice(entries.length);
        await this.#local.mark(this.#gauging, "on the server", entries.map(({ id }) => id));
      }
      this.whole = true;
      this.trouble = null;
    } catch (error) {
      this.trouble = `${sentence(error)}.`;
    }
  }
}
