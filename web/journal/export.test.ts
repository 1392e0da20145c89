import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { test } from "node:test";

import { entry, GAUGING, randomJournal, seeded, shuffled } from "../testing/journal.ts";
import { exportName, journalFile } from "./export.ts";
import { StoreTrouble, type StoredFile } from "./store_contract.ts";

const PICTURE = Buffer.from("a picture of the left bank");
const SHA256 = createHash("sha256").update(PICTURE).digest("hex");
const file: StoredFile = {
  sha256: SHA256,
  type: "image/jpeg",
  bytes: Uint8Array.from(PICTURE).buffer,
};
const photo = entry({ id: "p", sequence: 2, what: "photos/1", value: { sha256: SHA256 } });
const none = async () => undefined;

test("the file is the journal as the contract has it, photos and results beside", async () => {
  const record = { format: "bankside.gauging/1" };
  const shown = { discharge_m3s: 0.123, method_version: "1", version: "0.1.0" };
  const made = await journalFile([photo, entry({ id: "a" })], async () => file, { record, shown });
  assert.deepEqual(JSON.parse(await made.blob.text()), {
    format: "bankside.journal/1",
    gauging: GAUGING,
    entries: [entry({ id: "a" }), photo],
    files: { [SHA256]: { type: "image/jpeg", base64: PICTURE.toString("base64") } },
    record,
    shown,
  });
  assert.deepEqual([made.entryIds, made.gauging], [["a", "p"], GAUGING]);
  assert.deepEqual([made.missing, made.unreadable], [0, 0]);
  assert.equal(made.blob.type, "application/json");
});

test("the same entries in any order, with members in any order, give the same bytes", async () => {
  const random = seeded(7);
  const journal = randomJournal(random, 60);
  const turned = journal.map(
    (one) => Object.fromEntries(Object.entries(one).reverse()) as unknown as typeof one,
  );
  const texts = new Set<string>();
  for (const entries of [journal, shuffled(journal, random), turned]) {
    texts.add(await (await journalFile(entries, none)).blob.text());
  }
  assert.equal(texts.size, 1);
});

test("the file is made without a photo that is not here or cannot be read, and tells which", async () => {
  const lost = () => Promise.reject(new StoreTrouble("lost", "The storage is gone."));
  for (const [fileOf, ...counts] of [[none, 1, 0], [lost, 0, 1]] as const) {
    const made = await journalFile([entry({ id: "a" }), photo], fileOf);
    assert.deepEqual([made.missing, made.unreadable], counts);
    assert.deepEqual(Object.keys(JSON.parse(await made.blob.text())), [
      "format",
      "gauging",
      "entries",
    ]);
  }
});

test("what no file can hold as UTF-8 goes through as an escape", async () => {
  const half = entry({ id: "a", value: "half \ud83d of a sign" });
  const text = await (await journalFile([half], none)).blob.text();
  assert.equal(JSON.parse(text).entries[0].value, half.value);
});

test("a file name tells stream, site and date in letters that every file system takes", () => {
  const journal = [
    entry({ id: "a", value: " Ålder / Fork: \u202Eeast?* " }),
    entry({ id: "b", sequence: 2, what: "site/name", value: "CON..\\weir" }),
    entry({ id: "c", sequence: 3, what: "started", value: "2026-07-13T23:50:00.000-07:00" }),
  ];
  assert.equal(
    exportName(journal),
    "alder-fork-east-con-weir-2026-07-13-5f0c2a9e-3.bankside.json",
  );
});

test("a file name stands without a stream, and differs by gauging and by entries", () => {
  const bare = entry({ id: "a", what: "remarks", value: "none" });
  assert.equal(exportName([bare]), "2026-07-14-5f0c2a9e-1.bankside.json");
  const names = [
    exportName([entry({ id: "a" })]),
    exportName([entry({ id: "a" }), entry({ id: "b", sequence: 2, what: "remarks" })]),
    exportName([entry({ id: "a", gauging: "0b7d-other" })]),
  ];
  assert.equal(new Set(names).size, 3);
  const long = exportName([entry({ id: "a", value: "Quill Brook ".repeat(40) })]);
  assert.ok(long.length < 120, long);
});
