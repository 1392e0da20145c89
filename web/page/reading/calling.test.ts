import assert from "node:assert/strict";
import { test } from "node:test";

import { callingOf, halted, keyWords } from "./calling.ts";
import type { Asked, Present } from "./next.ts";

const UNITS = { tape: "ft", depth: "ft", velocity: "ft/s" };
const ROD = { fraction: 0.6, setting: "1.05", words: "" };

function present(asked: Asked, more: Partial<Present> = {}): Present {
  return { asked, tape: "14.5", vertical: null, edge: null, bank: null, planned: true, inserted: false, ...more };
}

function velocity(more: Partial<Asked & { ask: "velocity" }> = {}): Asked {
  return { ask: "velocity", fraction: 0.6, point: 1, points: 1, sure: true, again: false, ...more };
}

test("before the depth the tape position is called out", () => {
  const { label, figure, unit, aloud } = callingOf(present({ ask: "depth" }), null, UNITS);
  assert.deepEqual([label, figure, unit, aloud], ["Go to", "14.5", "ft", "Go to 14.5."]);
});

test("after the depth the setting of the rod is called out, with its place", () => {
  const { label, figure, more, aloud } = callingOf(present(velocity()), ROD, UNITS);
  assert.deepEqual([label, figure, more, aloud], ["Rod for 0.6", "1.05", "at 14.5 ft", "Rod at 1.05."]);
});

test("without a setting the point is called out, and no setting is made up", () => {
  const { figure, more, aloud } = callingOf(present(velocity()), null, UNITS);
  assert.deepEqual([figure, more, aloud], ["14.5", "0.6 of the depth", "0.6 of the depth."]);
});

test("while the crew is called out no position is called, and what was due waits", () => {
  const { label, figure, more, aloud } = halted(callingOf(present({ ask: "depth" }), null, UNITS), "Come out of the water");
  assert.deepEqual([label, figure, more], ["Come out of the water", "", "waits: go to 14.5 ft"]);
  assert.equal(aloud, "Come out of the water.");
});

test("the big key says what it will do with what is typed", () => {
  const say = (asked: Asked, figure: string | null, more: Partial<Present> = {}) =>
    keyWords(present(asked, more), figure, UNITS);
  assert.equal(say({ ask: "depth" }, "1.0"), "Depth is 1.0 ft");
  assert.equal(say({ ask: "depth" }, null), "Type the depth");
  assert.equal(say(velocity(), "0.83"), "Velocity is 0.83 ft/s");
  assert.equal(say(velocity({ fraction: 0.2, points: 2 }), "0.83"), "Velocity at 0.2 is 0.83 ft/s");
  assert.equal(say(velocity({ sure: false }), null), "Type the velocity at 0.6");
  assert.equal(say(velocity({ fraction: null, sure: false }), "0.5"), "Velocity (mean) is 0.5 ft/s");
  assert.equal(say({ ask: "tape", edge: "left" }, "3.2"), "Left edge is at 3.2 ft");
  assert.equal(say({ ask: "tape", edge: null }, "12.3", { inserted: true }), "Insert at 12.3 ft");
  assert.equal(say({ ask: "nothing" }, null), "Go to Check");
});

test("a meter that is read by counting is asked for its counts, then for their seconds", () => {
  const say = (figure: string | null, counts: string | null, more: Partial<Asked & { ask: "velocity" }> = {}) =>
    keyWords(present(velocity(more)), figure, UNITS, { counts });
  assert.equal(say(null, null, { fraction: 0.2, points: 2 }), "Type the counts at 0.2");
  assert.equal(say("35", null), "Counts are 35");
  assert.equal(say(null, "35"), "Type the seconds of 35 counts");
  assert.equal(say("42", "35"), "35 counts in 42 s");
});
