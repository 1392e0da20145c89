import assert from "node:assert/strict";
import { after, beforeEach, test } from "node:test";

import { sha256Of } from "../../journal/digest.ts";
import type { Entry } from "../../journal/entry.ts";
import { emptyDevice, openTab } from "../../testing/device.ts";
import { entriesOf } from "../../testing/entries.ts";
import { PaperKeeping, type Archive } from "./paper_store.svelte.ts";

const [STREAM, DEPTH] = entriesOf({ "site/stream": "Alder Fork", remarks: "weed" }) as [Entry, Entry];

/** An archive that can be out of reach. */
class FakeArchive implements Archive {
  reachable = true;
  readonly got: string[] = [];

  async push(entries: readonly Entry[]): Promise<void> {
    if (!this.reachable) throw new Error("The office's server cannot be reached.");
    this.got.push(...entries.map(({ id }) => id));
  }

  async putFile(sha256: string): Promise<void> {
    if (!this.reachable) throw new Error("The office's server cannot be reached.");
    this.got.push(sha256);
  }
}

beforeEach(emptyDevice);
after(emptyDevice);

test("what is typed is on the device even where the archive is out of reach, and goes there later", async () => {
  const local = await openTab();
  const archive = new FakeArchive();
  archive.reachable = false;
  const keeping = new PaperKeeping(local, archive, "g", []);
  await keeping.store.append([STREAM]);
  await keeping.push();
  assert.equal((await local.entries("g")).length, 1);
  assert.equal((await local.gaugings())[0]!.whereabouts, "here only");
  assert.deepEqual([keeping.whole, keeping.trouble], [false, "The office's server cannot be reached."]);
  archive.reachable = true;
  await keeping.store.append([DEPTH]);
  await keeping.push();
  assert.deepEqual(archive.got, [STREAM.id, DEPTH.id]);
  assert.deepEqual([keeping.whole, keeping.trouble], [true, null]);
  assert.equal((await local.gaugings())[0]!.whereabouts, "on the server");
});

test("a photo is in the archive before the entry that names it", async () => {
  const archive = new FakeArchive();
  const keeping = new PaperKeeping(await openTab(), archive, "g", []);
  const bytes = new ArrayBuffer(3);
  const sha256 = await sha256Of(bytes);
  await keeping.store.putFile({ sha256, type: "image/jpeg", bytes });
  await keeping.store.append([STREAM]);
  await keeping.push();
  assert.deepEqual(archive.got, [sha256, STREAM.id]);
});

test("what was left on the device another day is handed over when the sheet is opened again", async () => {
  const local = await openTab();
  await local.append([STREAM]);
  const archive = new FakeArchive();
  const keeping = new PaperKeeping(local, archive, "g", await local.unsent("g"));
  await keeping.push();
  assert.deepEqual(archive.got, [STREAM.id]);
});
