import assert from "node:assert/strict";
import { test } from "node:test";

import { reviewWords } from "./review_words.ts";

const review = {
  verdict: "approved",
  by: "R. Voss",
  at: "2026-07-15T12:00:00Z",
  reason: undefined,
  state: "x",
  changedSince: false,
} as const;

test("a verdict says by whom and when, and whether it still holds for what was said", () => {
  assert.equal(reviewWords(review), "Approved by R. Voss, 15 Jul 2026");
  assert.equal(
    reviewWords({ ...review, verdict: "sent back", changedSince: true }),
    "Sent back by R. Voss, 15 Jul 2026, and changed since",
  );
});
