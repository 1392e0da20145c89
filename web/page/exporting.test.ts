/** A gauging counts as exported only by a file that holds all that is removed with it. */

import assert from "node:assert/strict";
import { test, type TestContext } from "node:test";

import { StoreTrouble, type Store, type StoredFile } from "../journal/store_contract.ts";
import { giveNavigator } from "../testing/device.ts";
import { entry } from "../testing/journal.ts";
import { Exporting } from "./exporting.svelte.ts";

const PHOTO: StoredFile = { sha256: "ab", type: "image/jpeg", bytes: new ArrayBuffer(3) };
const ENTRIES = [
  entry({ id: "a" }),
  entry({ id: "p", sequence: 2, what: "photos/1", value: { sha256: PHOTO.sha256 } }),
];

/** A phone that shares files, with a store that reads photos so; and what it marks as exported. */
function onAPhone(t: TestContext, file: Store["file"]) {
  Object.assign(globalThis, { matchMedia: () => ({ matches: true }) });
  t.after(() => Reflect.deleteProperty(globalThis, "matchMedia"));
  giveNavigator({ canShare: () => true, share: async () => undefined });
  const marked: (readonly string[])[] = [];
  const mark = async (_gauging: string, _where: string, ids: readonly string[]) => void marked.push(ids);
  return { exporting: new Exporting({ file, mark } as Store), marked };
}

test("a file that was shared counts only once a person says that it arrived", async (t) => {
  const { exporting, marked } = onAPhone(t, async () => PHOTO);
  await exporting.export(ENTRIES);
  assert.deepEqual([exporting.state, marked], ["asking", []]);
  await exporting.arrived();
  assert.deepEqual([exporting.state, marked], ["done", [["a", "p"]]]);
});

test("a file without a photo that could not be read never counts, and trying again does", async (t) => {
  let lost = true;
  const { exporting, marked } = onAPhone(t, async () => {
    if (lost) throw new StoreTrouble("lost", "The storage is gone.");
    return PHOTO;
  });
  await exporting.export(ENTRIES);
  assert.deepEqual([exporting.state, exporting.unreadable, exporting.missing], ["idle", 1, 0]);
  assert.deepEqual(marked, []);
  lost = false;
  await exporting.export(ENTRIES);
  await exporting.arrived();
  assert.deepEqual([exporting.state, exporting.unreadable], ["done", 0]);
  assert.deepEqual(marked, [["a", "p"]]);
});

test("of a file that nobody took nothing is told", async (t) => {
  const lost = () => Promise.reject(new StoreTrouble("lost", "The storage is gone."));
  const { exporting, marked } = onAPhone(t, lost);
  const share = () => Promise.reject(new DOMException("", "AbortError"));
  giveNavigator({ canShare: () => true, share });
  await exporting.export(ENTRIES);
  assert.deepEqual([exporting.state, exporting.unreadable, exporting.missing], ["idle", 0, 0]);
  assert.deepEqual(marked, []);
});

test("a photo that is not on the device is told, and keeps nothing from counting", async (t) => {
  const { exporting, marked } = onAPhone(t, async () => undefined);
  await exporting.export(ENTRIES);
  await exporting.arrived();
  assert.deepEqual([exporting.missing, exporting.unreadable, marked.length], [1, 0, 1]);
});
