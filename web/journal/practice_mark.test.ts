import assert from "node:assert/strict";
import { after, beforeEach, test } from "node:test";

import { emptyDevice, openTab } from "../testing/device.ts";
import { entry } from "../testing/journal.ts";
import { journalFile } from "./export.ts";
import { importJournal } from "./import.ts";

beforeEach(emptyDevice);
after(emptyDevice);

const REAL = entry({ id: "r" });
const PRACTICE = entry({ id: "p", gauging: "practice-1" });

test("neither store takes in what belongs to the other, on whatever way it comes", async () => {
  const real = await openTab();
  const practice = await openTab("bankside-practice");

  for (const [store, other] of [[real, PRACTICE], [practice, REAL]] as const) {
    for (const way of [
      () => store.append([other]),
      () => store.takeIn([other]),
      () => store.takeInWhole(other.gauging, [other]),
    ]) {
      await assert.rejects(way, { name: "StoreTrouble", kind: "misplaced" });
    }
    const { blob } = await journalFile([other], async () => undefined);
    await assert.rejects(importJournal(store, blob), { name: "ImportFault" });
    assert.deepEqual(await store.gaugings(), []);
  }
});

test("each keeps its own, and neither shows the other's", async () => {
  const real = await openTab();
  const practice = await openTab("bankside-practice");
  await real.append([REAL]);
  await practice.append([PRACTICE]);

  assert.deepEqual((await real.gaugings()).map(({ id }) => id), [REAL.gauging]);
  assert.deepEqual((await practice.gaugings()).map(({ id }) => id), ["practice-1"]);
  assert.deepEqual(await real.entries("practice-1"), []);
});
