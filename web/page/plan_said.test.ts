import assert from "node:assert/strict";
import { test } from "node:test";

import {
  inWalkingOrder,
  positionFault,
  soundingFault,
  soundingsOf,
  stepped,
  waterOf,
  withSounding,
  type Water,
} from "./plan_said.ts";
import { fold } from "../journal/fold.ts";
import { entriesOf } from "../testing/entries.ts";

const LEFT_TO_RIGHT: Water = { left: "3.2", right: "24.1", start: "left" };
const ZERO_RIGHT: Water = { left: "24.1", right: "3.2", start: "left" };

test("positions come in the order in which the crew meets them, whichever way the tape runs", () => {
  const positions = ["12.0", "4.0", "8.05"];
  assert.deepEqual(inWalkingOrder(positions, LEFT_TO_RIGHT), ["4.0", "8.05", "12.0"]);
  assert.deepEqual(inWalkingOrder(positions, ZERO_RIGHT), ["12.0", "8.05", "4.0"]);
  assert.deepEqual(inWalkingOrder(positions, { ...ZERO_RIGHT, start: "right" }), ["4.0", "8.05", "12.0"]);
});

test("a step moves by one graduation exactly, and on is away from the start bank", () => {
  assert.equal(stepped("4.0", "far bank", "0.1", LEFT_TO_RIGHT), "4.1");
  assert.equal(stepped("4.0", "far bank", "0.1", ZERO_RIGHT), "3.9");
  assert.equal(stepped("0.3", "start bank", "0.01", LEFT_TO_RIGHT), "0.29");
});

test("a vertical stands in the water, and alone at its place", () => {
  assert.equal(positionFault("4.0", ["8.0"], LEFT_TO_RIGHT), null);
  assert.match(positionFault("8.00", ["8.0"], LEFT_TO_RIGHT)!, /already/);
  for (const position of ["3.2", "24.1", "30", "1"]) {
    assert.match(positionFault(position, [], ZERO_RIGHT)!, /between 3\.2 and 24\.1/);
  }
});

test("the water is known once both edges are read and differ", () => {
  const said = {
    "channels/1/verticals/a/edge": "left",
    "channels/1/verticals/a/tape": "3.2",
    "channels/1/verticals/b/edge": "right",
  };
  assert.equal(waterOf(fold(entriesOf(said))), null);
  const both = { ...said, "channels/1/verticals/b/tape": "24.1", start_bank: "right" };
  assert.deepEqual(waterOf(fold(entriesOf(both))), { left: "3.2", right: "24.1", start: "right" });
  assert.equal(waterOf(fold(entriesOf({ ...both, "channels/1/verticals/b/tape": "3.20" }))), null);
});

test("depths sounded beforehand stand in the order of the way, one at a place", () => {
  const water = { left: "3.0", right: "27.0", start: "right" } as const;
  const first = withSounding([], { tape: "9.0", depth: "0.9" }, water);
  const both = withSounding(first, { tape: "20.5", depth: "1.2" }, water);
  assert.deepEqual(both.map(({ tape }) => tape), ["20.5", "9.0"]);
  assert.deepEqual(soundingsOf(fold(entriesOf({ soundings: both.map((one) => ({ ...one })) }))), both);
  assert.deepEqual(soundingsOf(fold([])), []);
  assert.equal(soundingFault("9.00", both, water), "There is a depth at 9.00 already.");
  assert.match(soundingFault("28", both, water) ?? "", /between the edges of water, 3.0 and 27.0/);
  assert.equal(soundingFault("3.0", both, water), null);
});
