/** The connection to IndexedDB: opened once, given up when it is lost, opened again once. */

import {
  openDB,
  type DBSchema,
  type IDBPDatabase,
  type IDBPTransaction,
  type StoreNames,
} from "idb";

import { StoreTrouble } from "./store_contract.ts";

/** Brings the database from one version to the next. */
export type Migration<S extends DBSchema> = (
  db: IDBPDatabase<S>,
  transaction: IDBPTransaction<S, StoreNames<S>[], "versionchange">,
) => void;

/** What happens to the connection from outside. */
export interface Happenings {
  /** Another tab holds an older version; opening goes on when that tab is closed. */
  blocked(): void;
  /** The database is open, for the first time or again. */
  opened(): void;
  /** The browser closed the connection or the data were deleted. */
  lost(): void;
  /** A tab with a newer version wants to change the database, and has been let. */
  overtaken(): void;
}

export class Database<S extends DBSchema> {
  readonly #name: string;
  readonly #migrations: readonly Migration<S>[];
  readonly #happenings: Happenings;
  #opening: Promise<IDBPDatabase<S>> | null = null;
  #closed = false;

  /** `migrations[n]` leads from version n to n + 1; one that was released never changes. */
  constructor(name: string, migrations: readonly Migration<S>[], happenings: Happenings) {
    this.#name = name;
    this.#migrations = migrations;
    this.#happenings = happenings;
  }

  /** Read in one transaction, so that all of it is of one moment. */
  read<T, const N extends StoreNames<S>>(
    names: readonly N[],
    work: (transaction: IDBPTransaction<S, N[], "readonly">) => Promise<T>,
  ): Promise<T> {
    return this.#run((db) => {
      const transaction = db.transaction([...names]);
      // Its requests tell of an abort; nobody else waits for its end.
      transaction.done.catch(() => undefined);
      return work(transaction);
    });
  }

  /** Do work in one transaction that writes; resolves when it is complete, and not before. */
  change<T, const N extends StoreNames<S>>(
    names: readonly N[],
    durability: IDBTransactionDurability,
    work: (transaction: IDBPTransaction<S, N[], "readwrite">) => Promise<T>,
  ): Promise<T> {
    return this.#run(async (db) => {
      const transaction = db.transaction([...names], "readwrite", { durability });
      const { done } = transaction;
      done.catch(() => undefined);
      try {
        const result = await work(transaction);
        await done;
        return result;
      } catch (error) {
        // The reason of the transaction is the true one: its requests are only told of the abort.
        if (transaction.error) throw transaction.error;
        abort(transaction);
        throw error;
      }
    });
  }

  close(): void {
    this.#closed = true;
    const opening = this.#opening;
    this.#opening = null;
    void opening?.then((db) => db.close()).catch(() => undefined);
  }

  /** Do work on the open database; a lost connection is opened again and the work done once more. */
  async #run<T>(work: (db: IDBPDatabase<S>) => Promise<T>): Promise<T> {
    for (let again = true; ; again = false) {
      const opening = this.#opened();
      try {
        return await work(await opening);
      } catch (error) {
        if (!isLoss(error)) throw troubleOf(error);
        this.#drop(opening);
        if (!again) throw LOST();
      }
    }
  }

  #opened(): Promise<IDBPDatabase<S>> {
    if (this.#closed) throw LOST();
    // Set before anything is awaited: two callers share one connection.
    this.#opening ??= this.#open();
    return this.#opening;
  }

  #open(): Promise<IDBPDatabase<S>> {
    const opening: Promise<IDBPDatabase<S>> = openDB<S>(this.#name, this.#migrations.length, {
      upgrade: (db, from, _to, transaction) => {
        for (const migrate of this.#migrations.slice(from)) migrate(db, transaction);
      },
      blocked: () => this.#happenings.blocked(),
      blocking: (_from, to, event) => {
        this.#drop(opening);
        (event.target as IDBDatabase).close();
        if (to === null) this.#happenings.lost();
        else this.#happenings.overtaken();
      },
      terminated: () => {
        this.#drop(opening);
        this.#happenings.lost();
      },
    });
    opening.then(
      () => this.#happenings.opened(),
      () => this.#drop(opening),
    );
    return opening;
  }

  #drop(opening: Promise<IDBPDatabase<S>>): void {
    if (this.#opening === opening) this.#opening = null;
    void opening.then((db) => db.close()).catch(() => undefined);
  }
}

function abort(transaction: { abort(): void }): void {
  try {
    transaction.abort();
  } catch {
    // It has ended already.
  }
}

/**
 * Whether an error comes from a connection that is no more. A transaction that was cut off gives
 * AbortError; the code that aborts one itself throws StoreTrouble before that is seen. Browsers
 * that lose their storage process call it UnknownError.
 */
function isLoss(error: unknown): boolean {
  return ["InvalidStateError", "AbortError", "UnknownError"].includes(nameOf(error));
}

function troubleOf(error: unknown): StoreTrouble {
  if (error instanceof StoreTrouble) return error;
  if (nameOf(error) === "QuotaExceededError") return FULL();
  if (nameOf(error) === "VersionError") return NEWER();
  return new StoreTrouble(
    "unknown",
    `The browser's storage failed (${String(error)}), so this is not saved: export the gauging now.`,
  );
}

function nameOf(error: unknown): string {
  return error instanceof Error || error instanceof DOMException ? error.name : "";
}

export const FULL = (): StoreTrouble =>
  new StoreTrouble(
    "full",
    "This device has no room left, so this is not saved: export the gauging now, then delete " +
      "photos elsewhere on the device or remove gaugings that were exported.",
  );

const LOST = (): StoreTrouble =>
  new StoreTrouble(
    "lost",
    "The browser closed its storage and did not open it again, so this is not saved: leave this " +
      "page open, export the gauging, then try again.",
  );

export const NEWER = (): StoreTrouble =>
  new StoreTrouble(
    "newer",
    "A newer version of this app keeps the readings on this device, so nothing more is saved " +
      "here: export what is not saved, then load this page anew.",
  );

export const BLOCKED = (): StoreTrouble =>
  new StoreTrouble(
    "blocked",
    "Another tab runs an older version of this app: close that tab, and this page goes on.",
  );
