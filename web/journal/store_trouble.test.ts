import assert from "node:assert/strict";
import { after, beforeEach, test } from "node:test";

import {
  closeSilently,
  emptyDevice,
  openTab,
  takeStorageAway,
  told,
  until,
} from "../testing/device.ts";
import { entry, GAUGING } from "../testing/journal.ts";
import { StoreTrouble, type TroubleKind } from "./store_contract.ts";

beforeEach(emptyDevice);
after(emptyDevice);

const trouble = (kind: TroubleKind) => (error: unknown) =>
  error instanceof StoreTrouble && error.kind === kind && /^[A-Z].*\.$/.test(error.message);

test("an append waits for the transaction and not only for its requests", async (t) => {
  const store = await openTab();
  const add = IDBObjectStore.prototype.add;
  t.mock.method(IDBObjectStore.prototype, "add", function (this: IDBObjectStore, value: unknown) {
    const request = add.call(this, value);
    request.addEventListener("success", () => this.transaction.abort());
    return request;
  });
  await assert.rejects(store.append([entry({ id: "a" })]), trouble("lost"));
  assert.deepEqual(await store.entries(GAUGING), []);
});

test("a connection that was closed is opened again and the entries are kept", async () => {
  const store = await openTab();
  const lost: string[] = [];
  store.onLost(() => lost.push("lost"));
  closeSilently();
  assert.equal(await store.append([entry({ id: "a" })]), 1);
  assert.deepEqual(lost, []);
  takeStorageAway();
  await until(() => lost.length > 0);
  assert.equal(await store.append([entry({ id: "b", sequence: 2 })]), 1);
  assert.equal((await store.entries(GAUGING)).length, 2);
});

test("storage that is taken away while it is read leaves no rejection that nobody hears", async (t) => {
  const store = await openTab();
  await store.append([entry({ id: "a" })]);
  const unheard: unknown[] = [];
  const hear = (reason: unknown) => unheard.push(reason);
  process.on("unhandledRejection", hear);
  t.after(() => process.off("unhandledRejection", hear));
  const get = t.mock.method(IDBIndex.prototype, "getAll", function (this: IDBIndex) {
    get.mock.restore();
    const request = this.getAll(GAUGING);
    this.objectStore.transaction.abort();
    return request;
  });
  assert.equal((await store.entries(GAUGING)).length, 1);
  await new Promise((resolve) => setImmediate(resolve));
  assert.deepEqual(unheard, []);
});

test("storage that stays closed is tried once more and then told", async (t) => {
  const store = await openTab();
  const refuse = () => {
    throw new DOMException("The database connection is closing.", "InvalidStateError");
  };
  const tries = t.mock.method(IDBDatabase.prototype, "transaction", refuse);
  await assert.rejects(store.append([entry({ id: "a" })]), trouble("lost"));
  assert.equal(tries.mock.callCount(), 2);
  tries.mock.restore();
  assert.equal(await store.append([entry({ id: "a" })]), 1);
});

test("a full device is told as full, whether the request or the transaction finds out", async (t) => {
  const store = await openTab();
  const full = new DOMException("no room", "QuotaExceededError");
  const add = t.mock.method(IDBObjectStore.prototype, "add", () => {
    throw full;
  });
  await assert.rejects(store.append([entry({ id: "a" })]), trouble("full"));
  add.mock.restore();
  t.mock.method(IDBObjectStore.prototype, "add", function (this: IDBObjectStore) {
    Object.assign(this.transaction, { error: full });
    this.transaction.abort();
    throw new DOMException("aborted", "AbortError");
  });
  await assert.rejects(store.append([entry({ id: "a" })]), trouble("full"));
});

test("what a newer version of the app keeps is not touched", async () => {
  await new Promise((resolve) => {
    const request = indexedDB.open("bankside", 99);
    request.onupgradeneeded = () => request.result.createObjectStore("of the future");
    request.onsuccess = () => resolve(request.result.close());
  });
  await assert.rejects(openTab(), trouble("newer"));
  const kept = await indexedDB.databases();
  assert.deepEqual(kept, [{ name: "bankside", version: 99 }]);
});

test("a tab that meets a newer version lets it through, says so and saves no more", async () => {
  const store = await openTab();
  await store.append([entry({ id: "a" })]);
  const upgraded = await new Promise<IDBDatabase>((resolve) => {
    const request = indexedDB.open("bankside", 99);
    request.onsuccess = () => resolve(request.result);
  });
  assert.equal(told.at(-1)?.kind, "newer");
  await assert.rejects(store.append([entry({ id: "b", sequence: 2 })]), trouble("newer"));
  upgraded.close();
});

test("another tab that deletes the data is let through, and the loss is told", async () => {
  const store = await openTab();
  let lost = 0;
  store.onLost(() => (lost += 1));
  await store.append([entry({ id: "a" })]);
  await new Promise((resolve) => {
    indexedDB.deleteDatabase("bankside").onsuccess = resolve;
  });
  assert.equal(lost, 1);
  assert.deepEqual(await store.entries(GAUGING), []);
  assert.equal(await store.append([entry({ id: "a" })]), 1);
});
