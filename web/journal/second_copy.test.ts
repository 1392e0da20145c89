import assert from "node:assert/strict";
import { after, beforeEach, test } from "node:test";

import { emptyDevice, giveCaches, loseDatabase, openTab, until, type FakeCaches } from "../testing/device.ts";
import { entry, GAUGING } from "../testing/journal.ts";
import { sha256Of } from "./digest.ts";

let caches: FakeCaches;

beforeEach(() => {
  emptyDevice();
  caches = giveCaches();
});
after(emptyDevice);

const [first, second] = [entry({ id: "a" }), entry({ id: "b", sequence: 2 })];
const isWhole = () => [...caches.files.keys()].some((path) => path.endsWith("/whole"));

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
  assert.deepEqual(store.restored, { gaugings: 1, unreadable: 0 });
  assert.deepEqual(await store.entries(GAUGING), [first, second]);
  assert.deepEqual(await store.file((await photo()).sha256), await photo());
  assert.equal((await store.gaugings())[0]?.whereabouts, "here only");
  assert.notEqual(store.device, before.device);
  const again = await openTab();
  assert.equal(again.restored, null);
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
  assert.deepEqual(after.restored, { gaugings: 1, unreadable: 0 });
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
  await until(isWhole);
  loseDatabase();
  assert.deepEqual(await (await openTab()).entries(GAUGING), [first]);
});

test("what was kept before there was a copy is copied", async () => {
  Reflect.deleteProperty(globalThis, "caches");
  await (await openTab()).append([first]);
  caches = giveCaches();
  await openTab();
  await until(isWhole);
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
  assert.deepEqual(after.restored, { gaugings: 1, unreadable: 2 });
  assert.deepEqual(await after.entries(GAUGING), [second]);
});

test("a reading does not wait for a copy that never comes", async (t) => {
  const store = await openTab();
  t.mock.timers.enable({ apis: ["setTimeout"] });
  const open = caches.open;
  let asked = false;
  const never = { ...(await open()), put: () => new Promise<void>(() => (asked = true)) };
  caches.open = async () => never;
  const slow = await openTab();
  const saved = slow.append([first]);
  await until(() => asked);
  t.mock.timers.tick(2000);
  assert.equal(await saved, 1);
  assert.deepEqual(await store.entries(GAUGING), [first]);
});
