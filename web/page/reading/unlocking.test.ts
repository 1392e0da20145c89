import assert from "node:assert/strict";
import { test } from "node:test";

import { tappedAfter, unlocks } from "./unlocking.ts";

/** Whether the keys are open at some time during these taps; 0 stands for a tap elsewhere. */
function opens(taps: readonly number[]): boolean {
  let tapped = 0;
  return taps.some((key) => unlocks((tapped = tappedAfter(tapped, key || null))));
}

test("the three keys in turn open, and a shaking hand may tap each of them twice", () => {
  assert.ok(opens([1, 2, 3]));
  assert.ok(opens([1, 1, 2, 2, 3]));
});

test("who went astray begins again at the first key", () => {
  assert.ok(opens([2, 1, 3, 1, 2, 3]));
  assert.ok(opens([1, 2, 1, 2, 3]));
});

test("of all rows of five taps only those open that have the three keys in turn", () => {
  for (let row = 0; row < 4 ** 5; row += 1) {
    const taps = [...row.toString(4).padStart(5, "0")].map(Number);
    assert.equal(opens(taps), /1+2+3/.test(taps.join("")), taps.join(" "));
  }
});
