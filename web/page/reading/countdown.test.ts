import assert from "node:assert/strict";
import { test } from "node:test";

import { counted, elapsed, left, ranOut } from "./countdown.ts";

const RUN = { started: 5_000, seconds: 40 };

test("the seconds left go from the exposure down to nothing, and stay there", () => {
  assert.equal(left(RUN, 5_000), 40);
  assert.equal(left(RUN, 5_999), 40);
  assert.equal(left(RUN, 6_000), 39);
  assert.equal(left(RUN, 44_999), 1);
  assert.equal(left(RUN, 45_000), 0);
  assert.equal(left(RUN, 99_000), 0);
});

test("it has run out after the whole exposure and not before", () => {
  assert.equal(ranOut(RUN, 44_999), false);
  assert.equal(ranOut(RUN, 45_000), true);
});

test("a velocity keeps whole seconds counted, the full exposure at most, or none at all", () => {
  assert.equal(counted(RUN, 17_900), 12);
  assert.equal(counted(RUN, 200_000), 40);
  assert.equal(counted(RUN, 5_400), null);
  assert.equal(counted(null, 5_400), null);
});

test("a clock that stands behind the start counts nothing", () => {
  assert.equal(elapsed(RUN, 4_000), 0);
});
