import assert from "node:assert/strict";
import { test } from "node:test";

import { keysOf } from "./reasons.ts";

test("a mark names one key or several, and the rule of a finding by its check", () => {
  assert.deepEqual(keysOf("mean depth"), ["mean depth"]);
  assert.deepEqual(keysOf("check: Bank not named; severity"), ["check: Bank not named", "severity"]);
  assert.deepEqual(keysOf(""), []);
});
