import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { entry } from "../testing/journal.ts";
import type { Entry, Value } from "./entry.ts";
import { fold } from "./fold.ts";
import { reviewOf, stateOf } from "./review.ts";

const VECTORS = new URL("../../tests/vectors/states.json", import.meta.url);
const { cases } = JSON.parse(readFileSync(VECTORS, "utf8")) as {
  cases: { name: string; entries: Entry[]; sha256: string }[];
};

for (const { name, entries, sha256 } of cases) {
  test(`has the state that Python finds: ${name}`, async () => {
    assert.equal(await stateOf(entries), sha256);
    assert.equal(await stateOf([...entries].reverse()), sha256);
  });
}

const said = (value: Value, sequence = 1, reason?: string) =>
  entry({ id: `r${sequence}`, sequence, what: "review", value, ...(reason ? { reason } : {}) });
const APPROVED = { verdict: "approved", by: "R. Voss", state: "x" };

test("the verdict that was said last stands, with who said it and why", () => {
  const journal = [said(APPROVED), said({ ...APPROVED, verdict: "sent back" }, 2, "No second stage.")];
  const { at } = journal[1]!;
  assert.deepEqual(reviewOf(fold(journal)), {
    verdict: "sent back",
    by: "R. Voss",
    at,
    reason: "No second stage.",
    state: "x",
  });
});

test("what was taken out or is no verdict says nothing", () => {
  assert.equal(reviewOf(fold([])), null);
  assert.equal(reviewOf(fold([said(APPROVED), said(null, 2)])), null);
  for (const value of ["approved", { ...APPROVED, verdict: "kept" }, { verdict: "approved", by: 1 }]) {
    assert.equal(reviewOf(fold([said(value)])), null);
  }
});
