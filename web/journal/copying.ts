/**
 * What is done about the second copy of a database: kept ahead of it, caught up with it, put back
 * from, let go of. How the copy stands is kept in the database itself, with what is written there.
 */

import { gaugingIds, leaving, putBack, TO_FORGET, type Kept } from "./changes.ts";
import type { Database } from "./database.ts";
import type { Entry } from "./entry.ts";
import { leavesRoom } from "./room.ts";
import { secondCopyOf, type SecondCopy } from "./second_copy.ts";
import { StoreTrouble, type Restored, type StoredFile } from "./store_contract.ts";

/** How long a reading waits for its second copy before it is saved without. Ours, no source. */
const LONGEST_FOR_THE_COPY_MS = 2000;
/** How long the first screen waits for a copy to answer that may be all that is left. Ours, no source. */
const LONGEST_FOR_AN_ANSWER_MS = 10_000;
/** The setting that says how the copy stands: WHOLE, or a name of its own for each time it fell behind. */
const STANDS = "second-copy";
const WHOLE = "whole";

/** What came back; null where the copy could not be asked, so that it has to be asked again. */
export type PutBack = { readonly restored: Restored | null } | null;

export class Copying {
  readonly #name: string;
  readonly #database: Database<Kept>;
  readonly #copy: SecondCopy | null;
  /** Whether the copy has not answered yet: nothing more is laid on it meanwhile, nor waited for. */
  #hangs = false;

  constructor(name: string, database: Database<Kept>) {
    this.#name = name;
    this.#database = database;
    this.#copy = secondCopyOf(name);
  }

  /** Copy entries before the database has them; false where they are not copied, or not yet. */
  async keep(entries: readonly Entry[]): Promise<boolean> {
    return entries.length === 0 || this.#beside((copy) => copy.keep(entries));
  }

  /** As `keep`; a photo for which there is no room twice is kept once. */
  async keepFile(file: StoredFile): Promise<boolean> {
    if (this.#copy === null) return true;
    if (!(await leavesRoom(file.bytes.byteLength * 2))) return false;
    return this.#beside((copy) => copy.keepFile(file));
  }

  /** Let go of a gauging that was removed; what fails is done at the next start. */
  async forget(gauging: string): Promise<void> {
    await this.#beside((copy) => this.#forget(copy, gauging));
  }

  /** Put back what the copy has and the database lacks. */
  async putBack(): Promise<PutBack> {
    const copy = this.#copy;
    if (copy === null) return { restored: null };
    if (!(await this.#beside(() => copy.answers(), LONGEST_FOR_AN_ANSWER_MS))) return null;
    const copied = await copy.read().catch(() => null);
    if (copied === null) return null;
    if (copied.entries.length + copied.unreadable === 0) return { restored: null };
    const gaugings = await this.#database.change(["entries"], "strict", (tx) => putBack(tx, copied.entries));
    let lacking = copied.unreadable;
    for (const sha256 of copied.files) {
      if (!(await this.#putBackFile(copy, sha256))) lacking++;
    }
    return { restored: { gaugings, lacking } };
  }

  /** Copy what was kept before there was a copy, or without it, and let go of what was removed. */
  async catchUp(): Promise<void> {
    const copy = this.#copy;
    if (copy === null) return;
    try {
      await this.#forgetRemoved(copy);
      await this.#fillIn(copy);
      await this.#alone(() => copy.gather());
    } catch {
      // It stops nothing, and is done at the next start.
    }
  }

  async #putBackFile(copy: SecondCopy, sha256: string): Promise<boolean> {
    const there = await this.#database.read(["files"], (tx) => tx.objectStore("files").getKey(sha256));
    if (there !== undefined) return true;
    const file = await copy.file(sha256);
    if (file === null) return false;
    try {
      await this.#database.change(["files"], "strict", (tx) => tx.objectStore("files").put(file));
      return true;
    } catch (error) {
      // Readings that are back are not kept away from anybody for want of room for photos.
      if (error instanceof StoreTrouble && error.kind === "full") return false;
      throw error;
    }
  }

  async #forget(copy: SecondCopy, gauging: string): Promise<void> {
    const at = leaving(gauging);
    const files = await this.#database.read(["settings"], (tx) => tx.objectStore("settings").get(at));
    await this.#alone(() => copy.forget(gauging, Array.isArray(files) ? files : []));
    await this.#database.change(["settings"], "strict", (tx) => tx.objectStore("settings").delete(at));
  }

  async #forgetRemoved(copy: SecondCopy): Promise<void> {
    const settings = await this.#database.read(["settings"], (tx) => tx.objectStore("settings").getAllKeys());
    for (const at of settings.filter((name) => name.startsWith(TO_FORGET))) {
      const gauging = at.slice(TO_FORGET.length);
      const back = await this.#database.read(["entries"], (tx) =>
        tx.objectStore("entries").index("gauging").getKey(gauging),
      );
      if (back === undefined) await this.#forget(copy, gauging);
      else await this.#database.change(["settings"], "strict", (tx) => tx.objectStore("settings").delete(at));
    }
  }

  /** One gauging and one file at a time: all of a season would not go into the memory of a phone. */
  async #fillIn(copy: SecondCopy): Promise<void> {
    const stood = await this.#database.read(["settings"], (tx) => tx.objectStore("settings").get(STANDS));
    if (stood === WHOLE) return;
    const { held } = await this.#database.read(["entries", "marks"], gaugingIds);
    for (const gauging of held) await this.#alone(() => this.#copyGauging(copy, gauging));
    const files = await this.#database.read(["files"], (tx) => tx.objectStore("files").getAllKeys());
    let all = true;
    for (const sha256 of files) all = (await this.#alone(() => this.#copyFile(copy, sha256))) && all;
    if (!all) return;
    await this.#database.change(["settings"], "strict", async (tx) => {
      const settings = tx.objectStore("settings");
      // Not where it fell behind again meanwhile.
      if ((await settings.get(STANDS)) === stood) await settings.put(WHOLE, STANDS);
    });
  }

  async #copyGauging(copy: SecondCopy, gauging: string): Promise<void> {
    const entries = await this.#database.read(["entries"], (tx) =>
      tx.objectStore("entries").index("gauging").getAll(gauging),
    );
    await copy.keep(entries);
  }

  async #copyFile(copy: SecondCopy, sha256: string): Promise<boolean> {
    if (await copy.hasFile(sha256)) return true;
    const file = await this.#database.read(["files"], (tx) => tx.objectStore("files").get(sha256));
    if (file === undefined) return true;
    if (!(await leavesRoom(file.bytes.byteLength))) return false;
    await copy.keepFile(file);
    return true;
  }

  /** Do something with the copy; false where that fails, or takes longer than anything waits. */
  async #beside(
    work: (copy: SecondCopy) => Promise<void>,
    longest = LONGEST_FOR_THE_COPY_MS,
  ): Promise<boolean> {
    const copy = this.#copy;
    if (copy === null) return true;
    if (this.#hangs) return false;
    const done = work(copy).then(
      () => true,
      () => false,
    );
    void done.then(() => (this.#hangs = false));
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<boolean>((over) => {
      timer = setTimeout(() => {
        this.#hangs = true;
        over(false);
      }, longest);
    });
    const did = await Promise.race([done, late]);
    clearTimeout(timer);
    return did;
  }

  /** Do what no other tab may do meanwhile; a browser without locks lets every tab. */
  async #alone<T>(work: () => Promise<T>): Promise<T> {
    const locks = (navigator as { readonly locks?: LockManager }).locks;
    if (locks === undefined) return work();
    return (await locks.request(`${this.#name}-second-copy`, work)) as T;
  }
}

/** Remember with what is written that the copy lacks it. */
export async function fallBehind(settings: {
  put(value: unknown, name: string): Promise<unknown>;
}): Promise<void> {
  await settings.put(crypto.randomUUID(), STANDS);
}
