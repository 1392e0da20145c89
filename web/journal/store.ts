/**
 * What is kept on this device, in IndexedDB. Entries are only ever added, in transactions that the
 * browser must bring to the disk before it reports them complete.
 */

import {
  addMark,
  fresh,
  gaugingIds,
  putBack,
  remove,
  takeIn,
  type Kept,
  type TakingIn,
} from "./changes.ts";
import type { Entry, Value } from "./entry.ts";
import { BLOCKED, Database, FULL, NEWER, type Migration } from "./database.ts";
import { sha256Of } from "./digest.ts";
import { inOrder, united } from "./fold.ts";
import { holdGauging } from "./hold.ts";
import { misplaced } from "./practice_mark.ts";
import { leavesRoom } from "./room.ts";
import { secondCopyOf, type SecondCopy } from "./second_copy.ts";
import {
  StoreTrouble,
  type GaugingIds,
  type GaugingSummary,
  type Restored,
  type Store,
  type StoredFile,
  type TakenIn,
  type Whereabouts,
} from "./store_contract.ts";
import { sentIds, summaries } from "./summary.ts";

/** The real gaugings of this device, and those of practice: two databases that know nothing of each other. */
export type StoreName = "bankside" | "bankside-practice";

const MIGRATIONS: readonly Migration<Kept>[] = [
  (db) => {
    db.createObjectStore("entries", { keyPath: "id" }).createIndex("gauging", "gauging");
    db.createObjectStore("files", { keyPath: "sha256" });
    db.createObjectStore("marks", { keyPath: ["gauging", "whereabouts"] }).createIndex(
      "gauging",
      "gauging",
    );
    db.createObjectStore("drafts");
    db.createObjectStore("settings");
  },
];
const DEVICE = "device";
/** How long a reading waits for its second copy before it is saved without. Ours, no source. */
const LONGEST_FOR_THE_COPY_MS = 2000;

/**
 * Open what is kept on this device. `tell` hears of trouble that no call brings back, such as
 * another tab in the way, and null when it is over.
 */
export async function openStore(
  tell: (trouble: StoreTrouble | null) => void,
  name: StoreName = "bankside",
): Promise<Store> {
  const store = new DeviceStore(name, tell);
  try {
    await store.begin();
  } catch (error) {
    store.close();
    throw error;
  }
  return store;
}

class DeviceStore implements Store {
  device: string = crypto.randomUUID();
  readonly practice: boolean;
  restored: Restored | null = null;
  readonly #copy: SecondCopy | null;
  readonly #database: Database<Kept>;
  readonly #channel: BroadcastChannel;
  readonly #changes = new Set<(gauging: string) => void>();
  readonly #writes = new Set<(gauging: string) => void>();
  readonly #losses = new Set<() => void>();
  #closed = false;

  constructor(name: StoreName, tell: (trouble: StoreTrouble | null) => void) {
    this.practice = name === "bankside-practice";
    this.#copy = secondCopyOf(name);
    this.#channel = new BroadcastChannel(name);
    this.#database = new Database(name, MIGRATIONS, {
      blocked: () => tell(BLOCKED()),
      opened: () => tell(null),
      lost: () => this.#losses.forEach((listener) => listener()),
      overtaken: () => tell(NEWER()),
    });
    this.#channel.onmessage = ({ data }: MessageEvent<{ gauging: string }>) =>
      this.#changes.forEach((listener) => listener(data.gauging));
  }

  /** Find the name of the device; a database without one is new, or was begun anew by the browser. */
  async begin(): Promise<void> {
    // Looked for first, as it is there at every start but one: to write waits for the disk.
    const known = await this.#database.read(["settings"], (tx) => tx.objectStore("settings").get(DEVICE));
    if (typeof known === "string") {
      this.device = known;
      void this.#beside((copy) => this.#fillIn(copy));
      return;
    }
    // Before there is a name: what is broken off here is done again at the next start.
    await this.#restore();
    await this.#nameDevice();
  }

  /** Take the name that is kept, or keep the new one; in one transaction, so that tabs agree. */
  async #nameDevice(): Promise<void> {
    this.device = await this.#database.change(["settings"], "strict", async (tx) => {
      const settings = tx.objectStore("settings");
      const kept = await settings.get(DEVICE);
      if (typeof kept === "string") return kept;
      await settings.put(this.device, DEVICE);
      return this.device;
    });
  }

  /** Put back what the second copy has; it may be all that is left. */
  async #restore(): Promise<void> {
    const copied = await this.#copy?.read().catch(() => null);
    if (!copied || copied.entries.length + copied.unreadable === 0) return;
    const stores = ["entries", "files"] as const;
    const gaugings = await this.#database.change(stores, "strict", (tx) => putBack(tx, copied));
    this.restored = { gaugings, unreadable: copied.unreadable };
  }

  /** Copy what was kept before there was a second copy, or while it could not be written. */
  async #fillIn(copy: SecondCopy): Promise<void> {
    if (await copy.isWhole()) return;
    const [entries, files] = await this.#database.read(["entries", "files"], (tx) =>
      Promise.all([tx.objectStore("entries").getAll(), tx.objectStore("files").getAll()]),
    );
    await copy.keep(entries);
    for (const file of files) await copy.keepFile(file);
    await copy.setWhole(true);
  }

  /**
   * Do something with the second copy. It stops nothing: what fails is copied at the next start, and
   * what takes long is not waited for.
   */
  async #beside(work: (copy: SecondCopy) => Promise<void>): Promise<void> {
    const copy = this.#copy;
    if (copy === null) return;
    const done = work(copy).catch(() => copy.setWhole(false).catch(() => undefined));
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise((over) => (timer = setTimeout(over, LONGEST_FOR_THE_COPY_MS)));
    await Promise.race([done, late]);
    clearTimeout(timer);
  }

  async append(entries: readonly Entry[]): Promise<number> {
    this.#keepApart(entries);
    // First, so that the copy never lacks what the database has.
    await this.#beside((copy) => copy.keep(entries));
    const added = await this.#database.change(["entries"], "strict", async (tx) => {
      const kept = tx.objectStore("entries");
      const there = await Promise.all(entries.map(({ id }) => kept.get(id)));
      const added = fresh(entries, there);
      await Promise.all(added.map((entry) => kept.add(entry)));
      return added;
    });
    this.#announce(new Set(added.map(({ gauging }) => gauging)));
    return added.length;
  }

  async takeIn(entries: readonly Entry[]): Promise<TakenIn> {
    this.#keepApart(entries);
    return this.#takeIn((tx) => takeIn(tx, entries));
  }

  async takeInWhole(gauging: string, entries: readonly Entry[]): Promise<TakenIn> {
    this.#keepApart(entries);
    return this.#takeIn(async (tx) => {
      await addMark(tx.objectStore("marks"), gauging, "whole", []);
      return takeIn(tx, entries);
    });
  }

  async entries(gauging: string): Promise<Entry[]> {
    return united(
      await this.#database.read(["entries"], (tx) =>
        tx.objectStore("entries").index("gauging").getAll(gauging),
      ),
    );
  }

  gaugingIds(): Promise<GaugingIds> {
    return this.#database.read(["entries", "marks"], gaugingIds);
  }

  async unsent(gauging: string): Promise<Entry[]> {
    const entries = await this.#database.read(["entries", "marks"], async (tx) => {
      const kept = tx.objectStore("entries");
      const [ids, mark] = await Promise.all([
        kept.index("gauging").getAllKeys(gauging),
        tx.objectStore("marks").get([gauging, "on the server"]),
      ]);
      const there = sentIds(mark ? [mark] : []);
      return Promise.all(ids.filter((id) => !there.has(id)).map((id) => kept.get(id)));
    });
    return entries.filter((entry) => entry !== undefined).sort(inOrder);
  }

  async gaugings(): Promise<GaugingSummary[]> {
    const [entries, marks] = await this.#database.read(["entries", "marks"], (tx) =>
      Promise.all([tx.objectStore("entries").getAll(), tx.objectStore("marks").getAll()]),
    );
    return summaries(entries, marks);
  }

  async putFile(file: StoredFile): Promise<void> {
    if ((await sha256Of(file.bytes)) !== file.sha256) {
      throw new StoreTrouble("differs", `A file does not have the checksum ${file.sha256}.`);
    }
    // What is here already needs no room, and is the same by its checksum.
    if ((await this.file(file.sha256)) !== undefined) return;
    if (!(await leavesRoom(file.bytes.byteLength * (this.#copy === null ? 1 : 2)))) throw FULL();
    await this.#beside((copy) => copy.keepFile(file));
    await this.#database.change(["files"], "strict", (tx) => tx.objectStore("files").put(file));
  }

  file(sha256: string): Promise<StoredFile | undefined> {
    return this.#database.read(["files"], (tx) => tx.objectStore("files").get(sha256));
  }

  async mark(
    gauging: string,
    whereabouts: Exclude<Whereabouts, "here only">,
    entryIds: readonly string[],
  ): Promise<void> {
    await this.#database.change(["marks"], "strict", (tx) =>
      addMark(tx.objectStore("marks"), gauging, whereabouts, entryIds),
    );
    this.#announce([gauging]);
  }

  async forgetServer(): Promise<void> {
    const gaugings = await this.#database.change(["marks"], "strict", async (tx) => {
      const marks = tx.objectStore("marks");
      const keys = await marks.getAllKeys();
      const sent = keys.filter(([, whereabouts]) => whereabouts !== "exported");
      await Promise.all(sent.map((key) => marks.delete(key)));
      return sent.map(([gauging]) => gauging);
    });
    this.#announce(gaugings);
  }

  async removeGauging(gauging: string): Promise<void> {
    const hold = await holdGauging(gauging);
    try {
      if (!hold.held) throw OPEN_ELSEWHERE();
      const stores = ["entries", "files", "marks", "drafts"] as const;
      const files = await this.#database.change(stores, "strict", (tx) => remove(tx, gauging));
      await this.#beside((copy) => copy.forget(gauging, files));
    } finally {
      hold.release();
    }
    this.#announce([gauging]);
  }

  draft(gauging: string): Promise<Value | undefined> {
    return this.#database.read(["drafts"], (tx) => tx.objectStore("drafts").get(gauging));
  }

  async setDraft(gauging: string, draft: Value | undefined): Promise<void> {
    await this.#database.change(["drafts"], "relaxed", async (tx) => {
      const drafts = tx.objectStore("drafts");
      await (draft === undefined ? drafts.delete(gauging) : drafts.put(draft, gauging));
    });
  }

  setting(name: string): Promise<unknown> {
    return this.#database.read(["settings"], (tx) => tx.objectStore("settings").get(name));
  }

  async setSetting(name: string, value: unknown): Promise<void> {
    await this.#database.change(["settings"], "strict", (tx) =>
      tx.objectStore("settings").put(value, name),
    );
  }

  onChange(listener: (gauging: string) => void): () => void {
    this.#changes.add(listener);
    return () => this.#changes.delete(listener);
  }

  onWrite(listener: (gauging: string) => void): () => void {
    this.#writes.add(listener);
    return () => this.#writes.delete(listener);
  }

  onLost(listener: () => void): () => void {
    this.#losses.add(listener);
    return () => this.#losses.delete(listener);
  }

  close(): void {
    this.#closed = true;
    this.#channel.close();
    this.#database.close();
  }

  async #takeIn(work: (tx: TakingIn) => ReturnType<typeof takeIn>): Promise<TakenIn> {
    const { added, differing } = await this.#database.change(["entries", "marks"], "strict", work);
    await this.#beside((copy) => copy.keep(added));
    this.#announce(new Set(added.map(({ gauging }) => gauging)));
    return { added: added.length, differing };
  }

  /** The last gate between practice and real gaugings. */
  #keepApart(entries: readonly Entry[]): void {
    for (const { gauging } of entries) {
      const why = misplaced(gauging, this.practice);
      if (why !== null) throw new StoreTrouble("misplaced", `The gauging ${gauging} ${why}.`);
    }
  }

  #announce(gaugings: Iterable<string>): void {
    if (this.#closed) return;
    for (const gauging of gaugings) {
      this.#channel.postMessage({ gauging });
      this.#writes.forEach((listener) => listener(gauging));
    }
  }
}

const OPEN_ELSEWHERE = (): StoreTrouble =>
  new StoreTrouble("kept", "This gauging is open in a tab: close it there before it is removed.");
