import assert from "node:assert/strict";
import { beforeEach, test } from "node:test";

import type { DBSchema } from "idb";

import { emptyDevice, until } from "../testing/device.ts";
import { Database, type Migration } from "./database.ts";

interface Shelf extends DBSchema {
  readings: { key: string; value: string };
  notes: { key: string; value: string };
}
const FIRST: Migration<Shelf> = (db) => void db.createObjectStore("readings");
const SECOND: Migration<Shelf> = (db, transaction) => {
  db.createObjectStore("notes");
  void transaction.objectStore("readings").put("kept through", "after");
};

beforeEach(emptyDevice);

function opened(migrations: readonly Migration<Shelf>[], heard: string[] = []): Database<Shelf> {
  return new Database("shelf", migrations, {
    blocked: () => heard.push("blocked"),
    opened: () => heard.push("opened"),
    lost: () => heard.push("lost"),
    overtaken: () => heard.push("overtaken"),
  });
}

function all(shelf: Database<Shelf>, name: "readings" | "notes"): Promise<string[]> {
  return shelf.read([name], (tx) => tx.objectStore(name).getAll());
}

function keep(shelf: Database<Shelf>, value: string): Promise<string> {
  return shelf.change(["readings"], "strict", (tx) => tx.objectStore("readings").put(value, "depth"));
}

test("a newer version takes over what an older one kept, each step once", async () => {
  const old = opened([FIRST]);
  await keep(old, "1.05");
  old.close();
  const made = opened([FIRST, SECOND]);
  assert.deepEqual(await all(made, "readings"), ["kept through", "1.05"]);
  assert.deepEqual(await all(made, "notes"), []);
  made.close();
});

test("an open tab with the older version makes way for the newer one", async () => {
  const [before, after]: [string[], string[]] = [[], []];
  const old = opened([FIRST], before);
  await keep(old, "1.05");
  const made = opened([FIRST, SECOND], after);
  assert.deepEqual(await all(made, "readings"), ["kept through", "1.05"]);
  assert.deepEqual([before, after], [["opened", "overtaken"], ["opened"]]);
  made.close();
});

test("a tab that does not make way is told of, and opening goes on when it is gone", async () => {
  const stubborn = await new Promise<IDBDatabase>((resolve) => {
    const request = indexedDB.open("shelf", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("readings");
    request.onsuccess = () => resolve(request.result);
  });
  const heard: string[] = [];
  const made = opened([FIRST, SECOND], heard);
  const reading = all(made, "notes");
  await until(() => heard.length > 0);
  assert.deepEqual(heard, ["blocked"]);
  stubborn.close();
  assert.deepEqual(await reading, []);
  assert.deepEqual(heard, ["blocked", "opened"]);
  made.close();
});

test("callers that come at once share one connection", async (t) => {
  const opening = t.mock.method(indexedDB, "open");
  const shelf = opened([FIRST]);
  await Promise.all([1, 2, 3].map(() => all(shelf, "readings")));
  assert.equal(opening.mock.callCount(), 1);
  shelf.close();
});
