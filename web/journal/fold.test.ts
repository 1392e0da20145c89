import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { entry, randomJournal, seeded, shuffled } from "../testing/journal.ts";
import type { Entry, Value } from "./entry.ts";
import { fold, JournalFault, keysUnder, textAt, united, valueAt } from "./fold.ts";

interface Case {
  readonly name: string;
  readonly entries: readonly Entry[];
  readonly order?: readonly string[];
  readonly said?: {
    readonly [what: string]: {
      readonly value: Value;
      readonly history: readonly string[];
      readonly heads: readonly string[];
      readonly conflict: boolean;
    };
  };
  readonly refused?: unknown;
}

const VECTORS = new URL("../../tests/vectors/folds.json", import.meta.url);
const { cases } = JSON.parse(readFileSync(VECTORS, "utf8")) as { cases: Case[] };

for (const { name, entries, order, said, refused } of cases) {
  test(`folds as Python does: ${name}`, () => {
    if (refused !== undefined) {
      assert.throws(() => fold(entries), JournalFault);
      return;
    }
    const ids = (some: readonly Entry[]) => some.map(({ id }) => id);
    assert.deepEqual(ids(united(entries)), order);
    const found = [...fold(entries)].map(([what, { value, history, heads, conflict }]) => [
      what,
      { value, history: ids(history), heads: ids(heads), conflict },
    ]);
    assert.deepEqual(Object.fromEntries(found), said);
  });
}

test("any order and any split over devices of a journal folds to the same", () => {
  const random = seeded(20260714);
  for (let round = 0; round < 200; round++) {
    const journal = randomJournal(random, 1 + Math.floor(random() * 40));
    const expected = [...fold(journal)];
    const mixed = shuffled(journal, random);
    const cut = Math.floor(random() * (mixed.length + 1));
    const overlap = Math.floor(random() * mixed.length);
    assert.deepEqual([...fold(mixed)].sort(byWhat), expected.sort(byWhat), `round ${round}`);
    const parts = [mixed.slice(0, cut), mixed.slice(overlap), mixed.slice(cut)];
    assert.deepEqual(united(...parts), united(journal), `round ${round}`);
  }
});

test("devices that did not know of each other are in conflict where they say different things", () => {
  const first = entry({ id: "a", what: "meter/kind", value: "cup" });
  const here = entry({ id: "b", sequence: 2, what: "meter/kind", value: "vane", replaces: ["a"] });
  const there = { ...here, id: "c", device: "tablet", value: "cup" };
  const said = fold([there, first, here]).get("meter/kind")!;
  assert.deepEqual(
    [said.value, said.conflict, said.heads.map(({ id }) => id)],
    ["cup", true, ["b", "c"]],
  );
  assert.equal(fold([first, here, { ...there, value: "vane" }]).get("meter/kind")!.conflict, false);
});

test("one id with two contents is a fault, and with one content counts once", () => {
  const one = entry({ id: "a", value: { name: "I. Marrow", role: "recorder" }, what: "crew/m" });
  const same = { ...one, value: { role: "recorder", name: "I. Marrow" } };
  assert.equal(united([one], [same]).length, 1);
  assert.throws(() => united([one], [{ ...one, value: null }]), JournalFault);
});

test("the entries of two gaugings are no journal", () => {
  assert.throws(() => fold([entry({ id: "a" }), entry({ id: "b", gauging: "other" })]), JournalFault);
});

test("keys stand in the order in which they were first said, and null takes a text out", () => {
  const folded = fold([
    entry({ id: "a", sequence: 1, what: "crew/z", value: { name: "T. Quayle", role: "reader" } }),
    entry({ id: "b", sequence: 2, what: "crew/a", value: { name: "J. Ostrander", role: "recorder" } }),
    entry({ id: "c", sequence: 3, what: "crew/z", value: null, replaces: ["a"] }),
    entry({ id: "d", sequence: 4 }),
    entry({ id: "e", sequence: 5, value: null, replaces: ["d"] }),
  ]);
  assert.deepEqual(keysUnder(folded, "crew"), ["z", "a"]);
  assert.equal(valueAt(folded, "crew/z"), null);
  assert.equal(textAt(folded, "site/stream"), undefined);
});

function byWhat([a]: readonly [string, unknown], [b]: readonly [string, unknown]): number {
  return a < b ? -1 : 1;
}
