import assert from "node:assert/strict";
import { test } from "node:test";

import { besideCircle, placed } from "./label_places.ts";

test("words stand to the right of their circle, and elsewhere where something stands there", () => {
  const words = { width: 40, height: 10, places: besideCircle(100, 100, 5, 40, 10) };
  assert.deepEqual(placed([words], []), [[108, 95]]);
  const [first, second] = placed([words, words], []);
  assert.deepEqual(first, [108, 95]);
  assert.deepEqual(second, [52, 95]);
});

test("words that have no room nowhere are left out, and take none from the next", () => {
  const wide = { width: 400, height: 10, places: [[0, 0]] as const };
  const small = { width: 10, height: 10, places: [[50, 0]] as const };
  const taken = [{ left: 20, top: 0, width: 10, height: 10 }];
  assert.deepEqual(placed([wide, small], taken), [null, [50, 0]]);
});
