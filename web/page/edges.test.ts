import assert from "node:assert/strict";
import { test } from "node:test";

import { fold } from "../journal/fold.ts";
import { entriesOf } from "../testing/entries.ts";
import { edgeOf, edgesOdd } from "./edges.ts";

const LEFT = { "channels/1/verticals/a/edge": "left", "channels/1/verticals/a/tape": "3.2" };
const RIGHT = { "channels/1/verticals/b/edge": "right", "channels/1/verticals/b/tape": "24.1" };

test("an edge is known by the bank it is at, with what was said of it", () => {
  const folded = fold(entriesOf({ ...LEFT, "channels/1/verticals/a/bank": "steep" }));
  const edge = edgeOf(folded, "left")!;
  assert.deepEqual([edge.key, edge.tape, edge.bank, edge.depth], ["a", "3.2", "steep", undefined]);
  assert.equal(edgeOf(folded, "right"), null);
});

test("an edge taken out gives way to one that is read", () => {
  const anew = { "channels/1/verticals/c/edge": "left", "channels/1/verticals/c/tape": "3.4" };
  const out = { ...LEFT, "channels/1/verticals/a/tape": null };
  assert.equal(edgeOf(fold(entriesOf({ ...out, ...anew })), "left")!.key, "c");
});

test("edges that contradict the zero of the tape are told with both readings", () => {
  const at = (zero: string) => edgesOdd(fold(entriesOf({ ...LEFT, ...RIGHT, zero_bank: zero })));
  assert.equal(at("left"), null);
  assert.match(at("right")!, /zero hangs at the right bank.*left edge.*3\.2 against 24\.1/);
});

test("two edges at one place of the tape cannot be", () => {
  const same = { ...RIGHT, "channels/1/verticals/b/tape": "3.20" };
  assert.match(edgesOdd(fold(entriesOf({ ...LEFT, ...same })))!, /Both edges/);
});
