/** A device for tests: storage that starts empty, and can be taken away as browsers do. */

import "fake-indexeddb/auto";

import { forceCloseDatabase, IDBFactory } from "fake-indexeddb";

import { openStore, type StoreName } from "../journal/store.ts";
import type { Store, StoreTrouble } from "../journal/store_contract.ts";

/** The cache files of a browser, as far as a second copy needs them. */
export class FakeCaches {
  readonly files = new Map<string, Response>();
  /** Set to have every write fail, as where there is no room. */
  full = false;

  open = async () => ({
    match: async (at: string | Request) => this.files.get(pathOf(at))?.clone(),
    put: async (at: string | Request, answer: Response) => {
      if (this.full) throw new DOMException("no room", "QuotaExceededError");
      this.files.set(pathOf(at), answer);
    },
    delete: async (at: string | Request) => this.files.delete(pathOf(at)),
    keys: async () => [...this.files.keys()].map((path) => new Request(`https://bank.test${path}`)),
  });
}

function pathOf(at: string | Request): string {
  return typeof at === "string" ? at : new URL(at.url).pathname;
}

/** Give the browser cache files; an empty device has none. */
export function giveCaches(): FakeCaches {
  const given = new FakeCaches();
  Object.defineProperty(globalThis, "caches", { value: given, configurable: true });
  return given;
}

/** Have the browser throw its database away, as one does that takes it for damaged. */
export function loseDatabase(): void {
  for (const store of stores) store.close();
  [connections, stores] = [[], []];
  globalThis.indexedDB = new WatchedFactory();
}

let connections: IDBDatabase[] = [];
let stores: Store[] = [];
/** What the stores told since the device was empty. */
export const told: (StoreTrouble | null)[] = [];

class WatchedFactory extends IDBFactory {
  override open(name: string, version?: number): IDBOpenDBRequest {
    const request = super.open(name, version);
    request.addEventListener("success", () => connections.push(request.result));
    return request;
  }
}

/** Start with an empty device whose browser has no locks and all the room of the world. */
export function emptyDevice(): void {
  loseDatabase();
  told.length = 0;
  giveNavigator({});
  Reflect.deleteProperty(globalThis, "caches");
}

/** Open the store as a tab does. */
export async function openTab(name?: StoreName): Promise<Store> {
  const store = await openStore((trouble) => told.push(trouble), name);
  stores.push(store);
  return store;
}

/** Close the open connections as a browser does that clears the data or runs out of memory. */
export function takeStorageAway(): void {
  for (const connection of connections.splice(0)) forceCloseDatabase(connection as never);
}

/** Close the open connections without a word, as iOS does to a page in the background. */
export function closeSilently(): void {
  for (const connection of connections.splice(0)) connection.close();
}

export function giveNavigator(value: object): void {
  Object.defineProperty(globalThis, "navigator", { value, configurable: true });
}

/** How long a test waits: a checksum is worked out beside the event loop, on a busy machine late. */
const LONGEST_MS = 30_000;

/** Resolve once something holds that other turns of the event loop bring about. */
export async function until(holds: () => boolean): Promise<void> {
  const end = performance.now() + LONGEST_MS;
  while (!holds()) {
    if (performance.now() > end) throw new Error("it never came to hold");
    await new Promise((resolve) => setImmediate(resolve));
  }
}
