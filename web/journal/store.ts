/**
 * What is kept on this device, in IndexedDB. Entries are only ever added, in transactions that the
 * browser must bring to the disk before it reports them complete.
 */

import {
  addMark,
  fresh,
  gaugingIds,
  remove,
  takeIn,
  type Kept,
  type TakingIn,
} from "./changes.ts";
import type { Entry, Value } from "./entry.ts";
import { Copying, fallBehind, type PutBack } from "./copying.ts";
import { BLOCKED, Database, FULL, NEWER, type Migration } from "./database.ts";
import { sha256Of } from "./digest.ts";
import { inOrder, united } from "./fold.ts";
import { holdGauging } from "./hold.ts";
import { misplaced } from "./practice_mark.ts";
import { leavesRoom } from "./room.ts";
import {
  RESTORED,
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
/** Set where a device got its name while its second copy could not be asked. */
const TO_PUT_BACK = "second-copy-to-put-back";

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
  readonly #copying: Copying;
  readonly #database: Database<Kept>;
  readonly #channel: BroadcastChannel;
  readonly #changes = new Set<(gauging: string) => void>();
  readonly #writes = new Set<(gauging: string) => void>();
  readonly #losses = new Set<() => void>();
  #closed = false;

  constructor(name: StoreName, tell: (trouble: StoreTrouble | null) => void) {
    this.practice = name === "bankside-practice";
    this.#channel = new BroadcastChannel(name);
    this.#database = new Database(name, MIGRATIONS, {
      blocked: () => tell(BLOCKED()),
      opened: () => tell(null),
      lost: () => this.#losses.forEach((listener) => listener()),
      overtaken: () => tell(NEWER()),
    });
    this.#copying = new Copying(name, this.#database);
    this.#channel.onmessage = ({ data }: MessageEvent<{ gauging: string }>) =>
      this.#changes.forEach((listener) => listener(data.gauging));
  }

  /** Find the name of the device; a database without one is new, or was begun anew by the browser. */
  async begin(): Promise<void> {
    // Looked for first, as it is there at every start but one: to write waits for the disk.
    const [known, asked, restored] = await this.#database.read(["settings"], (tx) =>
      Promise.all([DEVICE, TO_PUT_BACK, RESTORED].map((name) => tx.objectStore("settings").get(name))),
    );
    if (typeof known === "string" && asked !== true) {
      this.device = known;
      this.restored = (restored ?? null) as Restored | null;
    } else {
      // Before there is a name: what is broken off here is done again at the next start.
      await this.#nameDevice(await this.#copying.putBack());
    }
    void this.#copying.catchUp();
  }

  /** Take the name that is kept, or keep the new one; in one transaction, so that tabs agree. */
  async #nameDevice(putBack: PutBack): Promise<void> {
    this.restored = putBack?.restored ?? null;
    this.device = await this.#database.change(["settings"], "strict", async (tx) => {
      const settings = tx.objectStore("settings");
      await settings.put(putBack === null, TO_PUT_BACK);
      // Told at every start until somebody has seen it.
      if (this.restored !== null) await settings.put(this.restored, RESTORED);
      const kept = await settings.get(DEVICE);
      if (typeof kept === "string") return kept;
      await settings.put(this.device, DEVICE);
      return this.device;
    });
  }

  async append(entries: readonly Entry[]): Promise<number> {
    this.#keepApart(entries);
    const unknown = await this.#database.read(["entries"], (tx) => unknownOf(tx.objectStore("entries"), entries));
    // First, so that the copy never lacks what the database has; and nothing that is refused.
    const copied = await this.#copying.keep(unknown);
    const added = await this.#database.change(withBehind(copied, "entries"), "strict", async (tx) => {
      const kept = tx.objectStore("entries");
      const added = await unknownOf(kept, entries);
      await Promise.all(added.map((entry) => kept.add(entry)));
      if (!copied) await fallBehind(tx.objectStore("settings"));
      return added;
    });
    this.#announce(new Set(added.map(({ gauging }) => gauging)));
    return added.length;
  }

  async takeIn(entries: readonly Entry[]): Promise<TakenIn> {
    this.#keepApart(entries);
    return this.#takeIn(entries, (tx) => takeIn(tx, entries));
  }

  async takeInWhole(gauging: string, entries: readonly Entry[]): Promise<TakenIn> {
    this.#keepApart(entries);
    return this.#takeIn(entries, async (tx) => {
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
    if (!(await leavesRoom(file.bytes.byteLength))) throw FULL();
    const copied = await this.#copying.keepFile(file);
    await this.#database.change(withBehind(copied, "files"), "strict", async (tx) => {
      await tx.objectStore("files").put(file);
      if (!copied) await fallBehind(tx.objectStore("settings"));
    });
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
      const stores = ["entries", "files", "marks", "drafts", "settings"] as const;
      await this.#database.change(stores, "strict", (tx) => remove(tx, gauging));
      await this.#copying.forget(gauging);
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

  async #takeIn(
    entries: readonly Entry[],
    work: (tx: TakingIn) => ReturnType<typeof takeIn>,
  ): Promise<TakenIn> {
    const there = await this.#database.read(["entries"], (tx) => keptOf(tx.objectStore("entries"), entries));
    const copied = await this.#copying.keep(entries.filter((_, i) => there[i] === undefined));
    const stores = withBehind(copied, "entries", "marks");
    const { added, differing } = await this.#database.change(stores, "strict", async (tx) => {
      const taken = await work(tx);
      if (!copied) await fallBehind(tx.objectStore("settings"));
      return taken;
    });
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

type Reading = { get(id: string): Promise<Entry | undefined> };

/** Return for each entry what is kept under its id. */
function keptOf(kept: Reading, entries: readonly Entry[]): Promise<(Entry | undefined)[]> {
  return Promise.all(entries.map(({ id }) => kept.get(id)));
}

/** Return the entries that are not here; StoreTrouble if one is here with other content. */
async function unknownOf(kept: Reading, entries: readonly Entry[]): Promise<readonly Entry[]> {
  return fresh(entries, await keptOf(kept, entries));
}

/** The stores to write to, with the settings where these have to say that the copy fell behind. */
function withBehind<N extends "entries" | "files" | "marks">(
  copied: boolean,
  ...names: N[]
): (N | "settings")[] {
  return copied ? names : [...names, "settings"];
}

const OPEN_ELSEWHERE = (): StoreTrouble =>
  new StoreTrouble("kept", "This gauging is open in a tab: close it there before it is removed.");
