import assert from "node:assert/strict";
import { test } from "node:test";

import { reopenedAt } from "./reopening.ts";

const STARTED = "2026-07-14T10:05:00-07:00";
const NOTHING = { started: undefined, closed: false, review: null };

test("a gauging goes on where its readings are, and before the first of them at the beginning", () => {
  assert.equal(reopenedAt({ ...NOTHING, started: STARTED }, false), "read");
  assert.equal(reopenedAt({ ...NOTHING, started: STARTED }, true), "read");
  assert.equal(reopenedAt({ ...NOTHING, started: STARTED, closed: true }, true), "close");
  assert.equal(reopenedAt(NOTHING, false), "set-out");
});

test("in practice the beginning is the stream", () => {
  assert.equal(reopenedAt(NOTHING, true), "stream");
});
