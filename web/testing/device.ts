/** A browser's storage for tests: every test starts with an empty one. */

import "fake-indexeddb/auto";

import { IDBFactory } from "fake-indexeddb";

export function emptyDevice(): void {
  globalThis.indexedDB = new IDBFactory();
}

if (globalThis.navigator === undefined) {
  Object.defineProperty(globalThis, "navigator", { value: {}, configurable: true });
}
