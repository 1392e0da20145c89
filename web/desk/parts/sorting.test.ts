import assert from "node:assert/strict";
import { test } from "node:test";

import { inOrderOf, pressedHead } from "./sorting.ts";

test("numbers sort as numbers, words by their letters, and what is not known stands last", () => {
  const rows = [{ q: 10 }, { q: null }, { q: 9 }, { q: -1 }];
  const values = (down: boolean) => inOrderOf(rows, ({ q }) => q, down).map(({ q }) => q);
  assert.deepEqual(values(false), [-1, 9, 10, null]);
  assert.deepEqual(values(true), [10, 9, -1, null]);
  const names = ["QB-10", "af-2", "QB-2"];
  assert.deepEqual(inOrderOf(names, (name) => name, false), ["af-2", "QB-2", "QB-10"]);
});

test("rows that are alike keep their order, both ways", () => {
  const rows = ["a1", "b2", "a3", "b4"];
  const by = (row: string) => row[0]!;
  assert.deepEqual(inOrderOf(rows, by, false), ["a1", "a3", "b2", "b4"]);
  assert.deepEqual(inOrderOf(rows, by, true), ["b2", "b4", "a1", "a3"]);
});

test("a second press on the same head turns the order round, another head begins anew", () => {
  const once = pressedHead(null, 2);
  assert.deepEqual(once, { column: 2, down: false });
  assert.deepEqual(pressedHead(once, 2), { column: 2, down: true });
  assert.deepEqual(pressedHead(pressedHead(once, 2), 0), { column: 0, down: false });
});
