import assert from "node:assert/strict";
import { after, beforeEach, test } from "node:test";

import {
  emptyDevice,
  giveCaches,
  giveNavigator,
  loseDatabase,
  openTab,
  until,
  type FakeCaches,
} from "../testing/device.ts";
import { entry, GAUGING } from "../testing/journal.ts";
import { sha256Of } from "./digest.ts";
import { RESTORED } from "./store_contract.ts";

let caches: FakeCaches;

beforeEach(() => {
  emptyDevice();
  caches = giveCaches();
});
after(emptyDevice);

const [first, second] = [entry({ id: "a" }), entry({ id: "b", sequence: 2 })];
const copied = () => [...caches.files.keys()].filter((path) => path.includes("/entries/")).length;
const isCopied = () => copied() > 0;

async function photo(): Promise<{ sha256: string; type: string; bytes: ArrayBuffer }> {
  const bytes = new TextEncoder().encode("a bank").buffer as ArrayBuffer;
  return { sha256: await sha256Of(bytes), type: "image/jpeg", bytes };
}

test("what was kept comes back after the browser threw its database away", async () => {
  const before = await openTab();
  assert.equal(before.restored, null);
  await before.append([first]);
  await before.putFile(await photo());
  await before.takeIn([second]);
  loseDatabase();
  const store = await openTab();
  assert.deepEqual(store.restored, { gaugings: 1, lacking: 0 });
  assert.deepEqual(await store.entries(GAUGING), [first, second]);
  assert.deepEqual(await store.file((await photo()).sha256), await photo());
  assert.equal((await store.gaugings())[0]?.whereabouts, "here only");
  assert.notEqual(store.device, before.device);
});

test("what came back is told at every start until somebody has seen it", async () => {
  await (await openTab()).append([first]);
  loseDatabase();
  await openTab();
  const again = await openTab();
  assert.deepEqual(again.restored, { gaugings: 1, lacking: 0 });
  await again.setSetting(RESTORED, null);
  assert.equal((await openTab()).restored, null);
});

test("a file with fewer entries, brought in last, takes nothing from the copy", async () => {
  const store = await openTab();
  await store.append([first, second]);
  await store.append([first]);
  loseDatabase();
  assert.deepEqual(await (await openTab()).entries(GAUGING), [first, second]);
});

test("what was refused for its other content does not come back in the place of what was kept", async () => {
  const store = await openTab();
  await store.append([first]);
  await assert.rejects(store.append([entry({ id: "a", value: "9.99" })]));
  await store.takeIn([entry({ id: "a", value: "9.98" })]);
  loseDatabase();
  assert.deepEqual(await (await openTab()).entries(GAUGING), [first]);
});

test("what comes from the server is in the copy before it is in the database", async (t) => {
  const store = await openTab();
  t.mock.method(IDBObjectStore.prototype, "add", () => {
    assert.equal(copied(), 1);
    throw new DOMException("no room", "QuotaExceededError");
  });
  await assert.rejects(store.takeIn([first]), /no room/);
});

test("a copy that cannot be read at the start is asked again at the next", async () => {
  await (await openTab()).append([first]);
  loseDatabase();
  const { open } = caches;
  caches.open = () => Promise.reject(new DOMException("Operation too large.", "AbortError"));
  const between = await openTab();
  assert.equal(between.restored, null);
  caches.open = open;
  const after = await openTab();
  assert.deepEqual(after.restored, { gaugings: 1, lacking: 0 });
  assert.deepEqual(await after.entries(GAUGING), [first]);
  assert.equal(after.device, between.device);
});

test("a copy that never answers does not keep the app from starting", async (t) => {
  t.mock.timers.enable({ apis: ["setTimeout"] });
  caches.open = () => new Promise(() => undefined);
  let opened = false;
  void openTab().then(() => (opened = true));
  await until(() => {
    t.mock.timers.tick(1000);
    return opened;
  });
});

test("the many files of a gauging become one, and all of it comes back", async () => {
  const store = await openTab();
  const all = Array.from({ length: 21 }, (_, i) => entry({ id: `e${i}`, sequence: i + 1 }));
  for (const one of all) await store.append([one]);
  assert.equal(copied(), 21);
  await openTab();
  await until(() => copied() === 22);
  await openTab();
  await until(() => copied() === 1);
  loseDatabase();
  assert.deepEqual(await (await openTab()).entries(GAUGING), all);
});

test("a removal that the copy did not hear of is made good at the next start", async () => {
  const store = await openTab();
  await store.append([first]);
  await store.mark(GAUGING, "exported", ["a"]);
  const remove = caches.files.delete;
  caches.files.delete = () => {
    throw new Error("killed");
  };
  await store.removeGauging(GAUGING);
  assert.equal(copied(), 1);
  caches.files.delete = remove;
  await openTab();
  await until(() => copied() === 0);
});

test("a photo for which there is no room twice is kept once", async () => {
  const store = await openTab();
  const { sha256, bytes } = await photo();
  const usage = async () => ((await store.file(sha256)) ? bytes.byteLength : 0);
  const quota = 5_000_000 + bytes.byteLength;
  giveNavigator({ storage: { estimate: async () => ({ quota, usage: await usage() }) } });
  await store.putFile(await photo());
  await openTab();
  assert.deepEqual(await store.file(sha256), await photo());
  assert.equal(caches.files.size, 0);
});

test("a photo for which there is no room does not keep readings from coming back", async (t) => {
  const store = await openTab();
  await store.append([first]);
  await store.putFile(await photo());
  loseDatabase();
  const put = IDBObjectStore.prototype.put;
  t.mock.method(IDBObjectStore.prototype, "put", function (this: IDBObjectStore, value: object, key?: string) {
    if (this.name === "files") throw new DOMException("no room", "QuotaExceededError");
    return put.call(this, value, key);
  });
  const after = await openTab();
  assert.deepEqual(after.restored, { gaugings: 1, lacking: 1 });
  assert.deepEqual(await after.entries(GAUGING), [first]);
});

test("putting back that is broken off is done again at the next start", async (t) => {
  await (await openTab()).append([first]);
  loseDatabase();
  const add = t.mock.method(IDBObjectStore.prototype, "add", () => {
    throw new DOMException("no room", "QuotaExceededError");
  });
  await assert.rejects(openTab());
  add.mock.restore();
  assert.deepEqual(await (await openTab()).entries(GAUGING), [first]);
});

test("nothing has to be put back on a new device, and nothing of practice among real gaugings", async () => {
  assert.equal((await openTab()).restored, null);
  const names: string[] = [];
  const open = caches.open;
  caches.open = (name?: string) => {
    names.push(name!);
    return open();
  };
  await openTab();
  await openTab("bankside-practice");
  assert.deepEqual(names, ["bankside-second-copy", "bankside-practice-second-copy"]);
});

test("a gauging that was removed does not come back", async () => {
  const store = await openTab();
  const named = entry({ id: "p", sequence: 3, what: "photos/p1", value: { ...(await named1()) } });
  await store.putFile(await photo());
  await store.append([first, named]);
  await store.append([entry({ id: "c", gauging: "other" })]);
  await store.mark(GAUGING, "exported", ["a", "p"]);
  await store.removeGauging(GAUGING);
  loseDatabase();
  const after = await openTab();
  assert.deepEqual(after.restored, { gaugings: 1, lacking: 0 });
  assert.deepEqual(await after.entries(GAUGING), []);
  assert.equal(await after.file((await photo()).sha256), undefined);
});

async function named1(): Promise<{ purpose: string; sha256: string; bytes: number; type: string }> {
  const { sha256, bytes, type } = await photo();
  return { purpose: "left bank", sha256, bytes: bytes.byteLength, type };
}

test("a copy that cannot be written stops nothing, and is made good at the next start", async () => {
  const store = await openTab();
  caches.full = true;
  await store.append([first]);
  assert.deepEqual(await store.entries(GAUGING), [first]);
  caches.full = false;
  await openTab();
  await until(isCopied);
  loseDatabase();
  assert.deepEqual(await (await openTab()).entries(GAUGING), [first]);
});

test("what was kept before there was a copy is copied", async () => {
  Reflect.deleteProperty(globalThis, "caches");
  await (await openTab()).append([first]);
  caches = giveCaches();
  await openTab();
  await until(isCopied);
  loseDatabase();
  assert.deepEqual(await (await openTab()).entries(GAUGING), [first]);
});

test("a part of the copy that is damaged is counted, and the rest comes back", async () => {
  const store = await openTab();
  await store.append([first]);
  await store.append([second]);
  await store.putFile(await photo());
  const [damaged, , file] = [...caches.files.keys()];
  caches.files.set(damaged!, new Response('[{"id": "a", "gau'));
  caches.files.set(file!, new Response("other bytes"));
  loseDatabase();
  const after = await openTab();
  assert.deepEqual(after.restored, { gaugings: 1, lacking: 2 });
  assert.deepEqual(await after.entries(GAUGING), [second]);
});

test("a reading waits once for a copy that never comes, and is copied at the next start", async (t) => {
  await openTab();
  t.mock.timers.enable({ apis: ["setTimeout"] });
  const { open } = caches;
  let asked = 0;
  caches.open = async () => ({ ...(await open()), put: () => new Promise<void>(() => asked++) });
  const slow = await openTab();
  const saved = slow.append([first]);
  await until(() => asked > 0);
  t.mock.timers.tick(2000);
  assert.equal(await saved, 1);
  assert.equal(await slow.append([second]), 1);
  assert.equal(asked, 1);
  caches.open = open;
  await openTab();
  await until(isCopied);
  loseDatabase();
  assert.deepEqual(await (await openTab()).entries(GAUGING), [first, second]);
});
