import assert from "node:assert/strict";
import { test } from "node:test";

import { pause_s } from "./pauses.ts";

test("the pause doubles with each failure, to five minutes, and half of it is chance", () => {
  const longest = [1, 2, 3, 4, 5, 6, 7, 8, 50].map((failures) => pause_s(failures, 1));
  assert.deepEqual(longest, [5, 10, 20, 40, 80, 160, 300, 300, 300]);
  assert.equal(pause_s(1, 0), 2.5);
  assert.equal(pause_s(0, 1), 300);
});
