import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { after, beforeEach, test } from "node:test";

import { emptyDevice, giveNavigator, openTab } from "../testing/device.ts";
import { entry, GAUGING, randomJournal, seeded, shuffled } from "../testing/journal.ts";
import type { Entry } from "./entry.ts";
import { journalFile } from "./export.ts";
import { united } from "./fold.ts";
import { importJournal, ImportFault, readJournal } from "./import.ts";
import { StoreTrouble, type StoredFile } from "./store_contract.ts";

beforeEach(emptyDevice);
after(emptyDevice);

const PICTURE = Uint8Array.from({ length: 100_000 }, (_, i) => i % 251).buffer;
const SHA256 = createHash("sha256").update(new Uint8Array(PICTURE)).digest("hex");
const picture: StoredFile = { sha256: SHA256, type: "image/jpeg", bytes: PICTURE };
const photo = entry({ id: "p", sequence: 2, what: "photos/1", value: { sha256: SHA256 } });

async function blobOf(entries: readonly Entry[], ...files: StoredFile[]): Promise<Blob> {
  const fileOf = async (sha256: string) => files.find((file) => file.sha256 === sha256);
  return (await journalFile(entries, fileOf)).blob;
}

test("a device whose data were cleared has everything again from the exported file", async () => {
  const before = await openTab();
  const journal = [entry({ id: "a" }), photo, entry({ id: "c", sequence: 3, value: null })];
  await before.append(journal);
  await before.putFile(picture);
  const file = await blobOf(await before.entries(GAUGING), picture);
  emptyDevice();
  const store = await openTab();
  assert.deepEqual(await store.entries(GAUGING), []);
  assert.deepEqual(await importJournal(store, file), {
    gauging: GAUGING,
    added: 3,
    entries: 3,
    files: 1,
    unkept: [],
    missing: 0,
  });
  assert.deepEqual(await store.entries(GAUGING), journal);
  assert.deepEqual(await store.file(SHA256), picture);
  const again = await blobOf(await store.entries(GAUGING), picture);
  assert.equal(await again.text(), await file.text());
});

test("files of any parts of a journal, read in any order and again, unite to the whole", async () => {
  const random = seeded(11);
  for (let round = 0; round < 10; round++) {
    emptyDevice();
    const store = await openTab();
    const journal = randomJournal(random, 30);
    const mixed = shuffled(journal, random);
    const parts = [mixed.slice(0, 12), mixed.slice(8, 20), mixed.slice(15), mixed.slice(0, 12)];
    let added = 0;
    for (const part of shuffled(parts, random)) {
      added += (await importJournal(store, await blobOf(part))).added;
    }
    assert.equal(added, 30, `round ${round}`);
    assert.deepEqual(await store.entries(GAUGING), united(journal), `round ${round}`);
  }
});

test("a file without a photo that its entries name is read, and the photo said to be missing", async () => {
  const store = await openTab();
  const { missing, files } = await importJournal(store, await blobOf([photo]));
  assert.deepEqual([missing, files], [1, 0]);
});

test("photos without room are left out one by one, and every entry is taken", async () => {
  const small = Uint8Array.from([1, 2, 3]).buffer;
  const checksum = createHash("sha256").update(new Uint8Array(small)).digest("hex");
  const other: StoredFile = { sha256: checksum, type: "image/jpeg", bytes: small };
  const also = entry({ id: "q", sequence: 3, what: "photos/2", value: { sha256: checksum } });
  const file = await blobOf([entry({ id: "a" }), photo, also], picture, other);
  const store = await openTab();
  const left = 5_000_000 + small.byteLength;
  giveNavigator({ storage: { estimate: async () => ({ quota: left, usage: 0 }) } });
  const { added, files, unkept } = await importJournal(store, file);
  assert.deepEqual([added, files, unkept.map(({ kind }) => kind)], [3, 1, ["full"]]);
  assert.deepEqual(await store.file(checksum), other);
  assert.equal(await store.file(SHA256), undefined);
});

test("a photo that is here already needs no room to be taken in again", async () => {
  const store = await openTab();
  const file = await blobOf([photo], picture);
  await importJournal(store, file);
  giveNavigator({ storage: { estimate: async () => ({ quota: 1, usage: 1 }) } });
  const { files, unkept } = await importJournal(store, file);
  assert.deepEqual([files, unkept], [1, []]);
});

test("an entry that is on the device with other content stops the import, and nothing is taken", async () => {
  const store = await openTab();
  await store.append([entry({ id: "a" })]);
  const file = await blobOf([entry({ id: "a", value: "Tansy Run" }), photo], picture);
  await assert.rejects(
    importJournal(store, file),
    (error: unknown) => error instanceof StoreTrouble && error.kind === "differs",
  );
  assert.deepEqual(await store.entries(GAUGING), [entry({ id: "a" })]);
  assert.equal(await store.file(SHA256), undefined);
});

test("a file that is no whole journal of this format is refused with what is wrong", async () => {
  const whole = await (await blobOf([entry({ id: "a" }), photo], picture)).text();
  const changed = (change: (document: Record<string, any>) => void) => {
    const document = JSON.parse(whole) as Record<string, any>;
    change(document);
    return JSON.stringify(document);
  };
  const cases: [text: string, says: RegExp][] = [
    ["", /is empty/],
    ["tape,depth\n4.0,1.05", /must be JSON text \(got "tape,depth/],
    ["[]", /must hold a JSON object/],
    [whole.slice(0, 300), /is cut off after 300 characters/],
    [whole.replace('"entries": [', '"entries": [,'), /is damaged/],
    [changed((d) => (d["format"] = "bankside.journal/2")), /newer version of this app/],
    [changed((d) => (d["format"] = "bankside.gauging/1")), /finished record.*"Export" writes.*bankside\.journal\/1/],
    [changed((d) => (d["format"] = "bankside.practice/1")), /practice session.*"Export to go on elsewhere"/],
    [changed((d) => (d["format"] = "bankside.files/1")), /must be of the format "bankside.journal\/1" \(got "bankside.files/],
    [changed((d) => delete d["format"]), /must be of the format/],
    [changed((d) => (d["extra"] = 1)), /must have no part "extra"/],
    [changed((d) => (d["entries"] = [])), /must have a list of entries/],
    [changed((d) => (d["gauging"] = "other")), /must name the gauging of its entries/],
    [changed((d) => (d["entries"][1].gauging = "other")), /must be of one gauging/],
    [changed((d) => delete d["entries"][1].value), /entry 2: value must be given/],
    [changed((d) => (d["entries"][1].depth = "1")), /entry 2: an entry has no "depth"/],
    [changed((d) => (d["entries"][1].sequence = 1.5)), /entry 2: sequence must be a whole number/],
    [changed((d) => (d["entries"][1].at = "2026-07-14")), /entry 2: at must be a date and time/],
    [changed((d) => (d["entries"][1].what = "site//x")), /entry 2: what must be names/],
    [changed((d) => (d["entries"][1].reason = " ")), /entry 2: reason must be a text/],
    [changed((d) => (d["entries"][1].replaces = ["p"])), /replaces must hold ids of other entries/],
    [changed((d) => d["entries"].push({ ...d["entries"][0], value: "x" })), /has two contents/],
    [changed((d) => (d["files"][SHA256].base64 = "AAAA")), /does not have the checksum/],
    [changed((d) => (d["files"][SHA256].base64 = "***")), /is not base64/],
    [changed((d) => delete d["files"][SHA256].type), /must give file [0-9a-f]{12} a type/],
    [changed((d) => (d["files"] = [])), /must have files by their checksums/],
  ];
  for (const [text, says] of cases) {
    await assert.rejects(readJournal(text), (error: unknown) => {
      assert.ok(error instanceof ImportFault, String(error));
      assert.match(error.message, says);
      assert.match(error.message, /^The file .*\.$/);
      return true;
    });
  }
});

test("a file is read as UTF-8 with or without a byte-order mark, and refused as anything else", async () => {
  const store = await openTab();
  const file = await blobOf([entry({ id: "a", value: "Ålder Fork" })]);
  assert.equal((await importJournal(store, new Blob(["\uFEFF", file]))).added, 1);
  const latin = Buffer.from(await file.text(), "latin1");
  await assert.rejects(importJournal(store, new Blob([latin])), {
    name: "ImportFault",
    message: "The file must be text in UTF-8.",
  });
});
