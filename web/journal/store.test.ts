import assert from "node:assert/strict";
import { after, beforeEach, test } from "node:test";

import { emptyDevice, giveNavigator, openTab, until } from "../testing/device.ts";
import { entry, GAUGING } from "../testing/journal.ts";
import { sha256Of } from "./digest.ts";
import { StoreTrouble, type StoredFile, type TroubleKind } from "./store_contract.ts";

beforeEach(emptyDevice);
after(emptyDevice);

const trouble = (kind: TroubleKind) => (error: unknown) =>
  error instanceof StoreTrouble && error.kind === kind && /^[A-Z].*\.$/.test(error.message);

test("entries that were appended are there in order after the page was opened anew", async () => {
  const before = await openTab();
  const [first, second] = [entry({ id: "b" }), entry({ id: "a", sequence: 2, value: "1.0" })];
  assert.equal(await before.append([second, first]), 2);
  before.close();
  const store = await openTab();
  assert.deepEqual(await store.entries(GAUGING), [first, second]);
  assert.equal(store.device, before.device);
});

test("two tabs that open at once agree on the name of the device", async () => {
  const [one, other] = await Promise.all([openTab(), openTab()]);
  assert.equal(one.device, other.device);
});

test("an entry that is kept already is no trouble, and one with other content stops all", async () => {
  const store = await openTab();
  await store.append([entry({ id: "a", value: { x: 1, y: [2] } })]);
  assert.equal(await store.append([entry({ id: "a", value: { y: [2], x: 1 } })]), 0);
  const torn = [entry({ id: "n", sequence: 2 }), entry({ id: "a", value: "other" })];
  await assert.rejects(store.append(torn), trouble("differs"));
  assert.deepEqual(
    (await store.entries(GAUGING)).map(({ id, value }) => [id, value]),
    [["a", { x: 1, y: [2] }]],
  );
});

test("entries are written with strict durability and drafts with relaxed", async (t) => {
  const store = await openTab();
  const opened = t.mock.method(IDBDatabase.prototype, "transaction");
  await store.append([entry({ id: "a" })]);
  await store.setDraft(GAUGING, "1.");
  const asked = opened.mock.calls
    .filter(({ arguments: [, mode] }) => mode === "readwrite")
    .map(({ arguments: [names, , options] }) => [names, options]);
  assert.deepEqual(asked, [
    [["entries"], { durability: "strict" }],
    [["drafts"], { durability: "relaxed" }],
  ]);
});

test("other tabs hear which gauging changed, and the tab that wrote hears that it did", async () => {
  const [writer, reader] = [await openTab(), await openTab()];
  const heard: string[] = [];
  writer.onChange((gauging) => heard.push(`writer ${gauging}`));
  const leave = reader.onChange((gauging) => heard.push(`reader ${gauging}`));
  const wrote: string[] = [];
  for (const tab of [writer, reader]) tab.onWrite((gauging) => wrote.push(`${tab === writer} ${gauging}`));
  await writer.append([entry({ id: "a" })]);
  await until(() => heard.length > 0);
  assert.deepEqual(heard, [`reader ${GAUGING}`]);
  assert.deepEqual(wrote, [`true ${GAUGING}`]);
  leave();
});

test("a draft and settings are kept until they are changed, and a draft is no entry", async () => {
  const store = await openTab();
  await store.setDraft(GAUGING, { field: "depth", typed: "1." });
  await store.setSetting("hand", "left");
  store.close();
  const again = await openTab();
  assert.deepEqual(await again.draft(GAUGING), { field: "depth", typed: "1." });
  assert.equal(await again.setting("hand"), "left");
  assert.deepEqual(await again.entries(GAUGING), []);
  await again.setDraft(GAUGING, undefined);
  assert.equal(await again.draft(GAUGING), undefined);
});

test("a list of gaugings says of each what its entries say, the last begun first", async () => {
  const store = await openTab();
  const quill = { gauging: "quill", at: "2026-07-15T08:00:00.000-07:00" };
  await store.append([
    entry({ id: "a" }),
    entry({ id: "b", sequence: 2, what: "site/name", value: "below the footbridge" }),
    entry({ id: "c", sequence: 3, what: "started", value: "2026-07-14T10:15:00.000-07:00" }),
    entry({ id: "d", sequence: 4, what: "closed", value: { by: "I. Marrow" } }),
    entry({ id: "q", value: "Quill Brook", ...quill }),
    entry({ id: "r", sequence: 2, what: "closed", value: { by: "I. Marrow" }, ...quill }),
    entry({ id: "s", sequence: 3, what: "closed", value: null, replaces: ["r"], ...quill }),
  ]);
  const shared = { whereabouts: "here only", review: null };
  assert.deepEqual(await store.gaugings(), [
    {
      ...shared,
      id: "quill",
      stream: "Quill Brook",
      site: "",
      begun: quill.at,
      started: undefined,
      entries: 3,
      closed: false,
      waiting: { entries: 3, photos: 0 },
    },
    {
      ...shared,
      id: GAUGING,
      stream: "Alder Fork",
      site: "below the footbridge",
      begun: "2026-07-14T10:12:03.250-07:00",
      started: "2026-07-14T10:15:00.000-07:00",
      entries: 4,
      closed: true,
      waiting: { entries: 4, photos: 0 },
    },
  ]);
});

test("a gauging counts as exported only while every entry of it has left", async () => {
  const store = await openTab();
  const where = async () => (await store.gaugings())[0]!.whereabouts;
  await store.append([entry({ id: "a" }), entry({ id: "b", sequence: 2 })]);
  await store.mark(GAUGING, "exported", ["a"]);
  assert.equal(await where(), "here only");
  await store.mark(GAUGING, "exported", ["b"]);
  assert.equal(await where(), "exported");
  await store.mark(GAUGING, "on the server", ["a", "b"]);
  assert.equal(await where(), "on the server");
  await store.append([entry({ id: "c", sequence: 3 })]);
  assert.equal(await where(), "here only");
});

test("what came from the server is here and known to be there, but for what differs and photos", async () => {
  const store = await openTab();
  await store.append([entry({ id: "a" }), entry({ id: "b", sequence: 2, value: "here" })]);
  const named = entry({ id: "p", sequence: 4, what: "photos/1", value: { sha256: "0".repeat(64) } });
  const came = [
    entry({ id: "a", replaces: [] }),
    entry({ id: "b", sequence: 2, value: "there" }),
    entry({ id: "c", sequence: 3 }),
    entry({ id: "c", sequence: 3 }),
    named,
  ];
  assert.deepEqual(await store.takeIn(came), { added: 2, differing: ["b"] });
  const kept = (await store.entries(GAUGING)).map(({ id, value }) => [id, value]);
  assert.deepEqual(kept.slice(0, 3), [["a", "Alder Fork"], ["b", "here"], ["c", "Alder Fork"]]);
  assert.deepEqual((await store.unsent(GAUGING)).map(({ id }) => id), ["b", "p"]);
  assert.deepEqual((await store.gaugings())[0]!.waiting, { entries: 1, photos: 1 });
});

test("what is known of the server can be forgotten, and what was exported is not", async () => {
  const store = await openTab();
  await store.takeInWhole(GAUGING, [entry({ id: "a" })]);
  await store.mark(GAUGING, "exported", ["a"]);
  assert.deepEqual(await store.gaugingIds(), { held: [GAUGING], whole: [GAUGING], waiting: [] });
  assert.equal((await store.gaugings())[0]!.whereabouts, "on the server");
  await store.forgetServer();
  assert.deepEqual(await store.gaugingIds(), { held: [GAUGING], whole: [], waiting: [GAUGING] });
  assert.equal((await store.gaugings())[0]!.whereabouts, "exported");
});

test("a gauging that was removed is no longer one that was taken in whole", async () => {
  const store = await openTab();
  await store.takeInWhole(GAUGING, [entry({ id: "a" })]);
  await store.removeGauging(GAUGING);
  assert.deepEqual(await store.gaugingIds(), { held: [], whole: [], waiting: [] });
});

test("a file is kept under its checksum, and not under another", async () => {
  const store = await openTab();
  const file = await photo("left bank");
  await store.putFile(file);
  assert.deepEqual(await store.file(file.sha256), file);
  const other = { ...file, sha256: "0".repeat(64) };
  await assert.rejects(store.putFile(other), trouble("differs"));
  assert.equal(await store.file(other.sha256), undefined);
});

test("a photo leaves room for readings", async () => {
  const store = await openTab();
  const file = await photo("upstream");
  const free = 5_000_000 + file.bytes.byteLength;
  giveNavigator({ storage: { estimate: async () => ({ quota: 9_000_000, usage: 9_000_001 - free }) } });
  await assert.rejects(store.putFile(file), trouble("full"));
  giveNavigator({ storage: { estimate: async () => ({ quota: 9_000_000, usage: 9_000_000 - free }) } });
  await store.putFile(file);
  assert.deepEqual(await store.file(file.sha256), file);
});

test("a photo is kept where the browser does not tell how much room there is", async () => {
  const store = await openTab();
  const file = await photo("downstream");
  const estimate = () => Promise.reject(new TypeError("not in this window"));
  giveNavigator({ storage: { estimate } });
  await store.putFile(file);
  assert.deepEqual(await store.file(file.sha256), file);
});

test("a gauging is removed once it left the device, with the photos that no other names", async () => {
  const store = await openTab();
  const [own, shared] = [await photo("own"), await photo("shared")];
  for (const file of [own, shared]) await store.putFile(file);
  await store.append([
    entry({ id: "a", what: "photos/1", value: { sha256: own.sha256 } }),
    entry({ id: "b", sequence: 2, what: "photos/1", value: { sha256: shared.sha256 } }),
    entry({ id: "q", gauging: "quill", what: "photos/1", value: { sha256: shared.sha256 } }),
  ]);
  await store.setDraft(GAUGING, "1.");
  await store.mark(GAUGING, "exported", ["a"]);
  await assert.rejects(store.removeGauging(GAUGING), trouble("kept"));
  assert.equal((await store.entries(GAUGING)).length, 2);
  await store.mark(GAUGING, "exported", ["b"]);
  await store.removeGauging(GAUGING);
  assert.deepEqual(
    (await store.gaugings()).map(({ id }) => id),
    ["quill"],
  );
  assert.equal(await store.draft(GAUGING), undefined);
  assert.equal(await store.file(own.sha256), undefined);
  assert.deepEqual(await store.file(shared.sha256), shared);
});

test("a gauging that a tab has open is not removed", async () => {
  const store = await openTab();
  await store.append([entry({ id: "a" })]);
  await store.mark(GAUGING, "exported", ["a"]);
  const request = async (_name: string, _options: object, work: (lock: null) => unknown) => work(null);
  giveNavigator({ locks: { request } });
  await assert.rejects(store.removeGauging(GAUGING), trouble("kept"));
  assert.equal((await store.entries(GAUGING)).length, 1);
});

async function photo(shows: string): Promise<StoredFile> {
  const bytes = new TextEncoder().encode(`a picture of ${shows}`).buffer;
  return { sha256: await sha256Of(bytes), type: "image/jpeg", bytes };
}
