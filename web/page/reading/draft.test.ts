import assert from "node:assert/strict";
import { test } from "node:test";

import { draftFrom, kept, type Draft } from "./draft.ts";
import { NOTHING_TYPED } from "./typed.ts";

const NOTHING: Draft = {
  after: "e7",
  channel: "1",
  chosen: null,
  entering: null,
  typed: NOTHING_TYPED,
  counts: null,
  velocityCalled: false,
  left: [],
  points: {},
};

test("a draft comes back as it was kept", () => {
  const draft: Draft = {
    after: "e7",
    channel: "c2",
    chosen: { go: "tape", tape: "14.5", inserted: true },
    entering: { what: "channels/1/verticals/v1/depth", label: "Depth at 14.5", quantity: "depth", was: "1.50" },
    typed: { keys: "1.0", negative: true },
    counts: "35",
    velocityCalled: true,
    left: ["v1"],
    points: { v1: [0.2, 0.8], v2: [null] },
  };
  assert.deepEqual(draftFrom(kept(draft), "e7"), draft);
});

test("digits of a figure that was said since are typed no more", () => {
  const draft: Draft = { ...NOTHING, typed: { keys: "1.05", negative: false }, counts: "35", left: ["v1"] };
  assert.deepEqual(draftFrom(kept(draft), "e8"), { ...NOTHING, after: "e8", left: ["v1"] });
});

test("nothing typed and chosen is nothing to keep", () => {
  assert.equal(kept(NOTHING), undefined);
  assert.notEqual(kept({ ...NOTHING, typed: { keys: "1", negative: false } }), undefined);
});

test("what is no draft counts as none", () => {
  for (const value of [undefined, null, "x", 3, [], {}, { channel: 1 }]) assert.equal(draftFrom(value, "e7"), null);
  assert.deepEqual(draftFrom({ after: "e7", channel: "1", typed: "x", left: 3, points: [], chosen: "y" }, "e7"), NOTHING);
});
