import assert from "node:assert/strict";
import { test } from "node:test";

import type { ChannelSaid, VerticalSaid } from "../section.ts";
import { growsFromStart, presentOf, sameStep, toCome, type Known } from "./next.ts";

function vertical(tape: string, said: Partial<VerticalSaid> = {}): VerticalSaid {
  return {
    key: `v${tape}`,
    channel: "1",
    tape,
    edge: null,
    bank: null,
    depth: null,
    dry: false,
    inserted: false,
    angle: null,
    angleCoefficient: null,
    wallFactor: null,
    remark: null,
    readings: [],
    ...said,
  };
}

function read(tape: string, said: Partial<VerticalSaid> = {}): VerticalSaid {
  const readings = [{ key: "r1", value: "0.83", counts: null, fraction: 0.6, seconds: null }];
  return vertical(tape, { depth: "1.05", readings, ...said });
}

const LEFT = vertical("3.0", { edge: "left", bank: "sloping", depth: "0" });
const RIGHT = vertical("9.0", { edge: "right", bank: "sloping", depth: "0" });

function channel(...verticals: VerticalSaid[]): ChannelSaid {
  return { key: "1", name: null, verticals };
}

function known(verticals: VerticalSaid[], more: Partial<Known> = {}): Known {
  return {
    channel: channel(...verticals),
    planned: ["4.0", "5.0", "6.0", "7.0"],
    start: "left",
    growing: true,
    chosen: null,
    left: new Set(),
    points: () => [0.6],
    ...more,
  };
}

test("the edge of the start bank comes before everything", () => {
  const { asked, edge, bank } = presentOf(known([]));
  assert.deepEqual({ asked, edge, bank }, { asked: { ask: "tape", edge: "left" }, edge: "left", bank: "sloping" });
  assert.equal(presentOf(known([], { start: "right" })).edge, "right");
});

test("after the edge the first planned position is due, and its depth", () => {
  const { tape, planned, asked } = presentOf(known([LEFT]));
  assert.deepEqual([tape, planned, asked], ["4.0", true, { ask: "depth" }]);
});

test("after the depth the velocity is asked at the point that the depth asks for", () => {
  const { tape, asked } = presentOf(known([LEFT, vertical("4.0", { depth: "1.05" })]));
  assert.equal(tape, "4.0");
  assert.deepEqual(asked, { ask: "velocity", fraction: 0.6, point: 1, points: 1, sure: true, again: false });
});

test("two points are asked in turn, then the next position", () => {
  const points = () => [0.2, 0.8];
  const one = { key: "r1", value: "0.9", counts: null, fraction: 0.2, seconds: null };
  const two = { key: "r2", value: "0.7", counts: null, fraction: 0.8, seconds: null };
  const at = (...readings: VerticalSaid["readings"]) =>
    presentOf(known([LEFT, vertical("4.0", { depth: "2.80", readings })], { points }));
  assert.deepEqual([at().tape, at().asked], ["4.0", { ask: "velocity", fraction: 0.2, point: 1, points: 2, sure: true, again: false }]);
  assert.deepEqual(at(one).asked, { ask: "velocity", fraction: 0.8, point: 2, points: 2, sure: true, again: false });
  assert.equal(at(one, two).tape, "5.0");
});

test("without an engine 0.6 is asked and said not to be sure", () => {
  const { asked } = presentOf(known([LEFT, vertical("4.0", { depth: "1.05" })], { points: () => null }));
  assert.deepEqual(asked, { ask: "velocity", fraction: 0.6, point: 1, points: 1, sure: false, again: false });
  assert.equal(presentOf(known([LEFT, read("4.0")], { points: () => null })).tape, "5.0");
});

test("a vertical is done when dry, at zero depth, left by the recorder or read for its mean", () => {
  const mean = { key: "r1", value: "0.8", counts: null, fraction: null, seconds: null };
  for (const done of [
    vertical("4.0", { dry: true }),
    vertical("4.0", { depth: "0.00" }),
    vertical("4.0", { depth: "1.05", readings: [mean] }),
  ]) {
    assert.equal(presentOf(known([LEFT, done])).tape, "5.0");
  }
  const sounded = known([LEFT, vertical("4.0", { depth: "1.05" })], { left: new Set(["v4.0"]) });
  assert.equal(presentOf(sounded).tape, "5.0");
});

test("a vertical whose depth was taken back asks for its depth again", () => {
  const { tape, asked } = presentOf(known([LEFT, vertical("4.0")]));
  assert.deepEqual([tape, asked], ["4.0", { ask: "depth" }]);
});

test("positions that the crew passed are not due, whatever they read instead", () => {
  assert.equal(presentOf(known([LEFT, read("4.0"), read("5.4")])).tape, "6.0");
  assert.equal(presentOf(known([LEFT, read("6.0")])).tape, "7.0");
  assert.deepEqual(toCome(known([LEFT, read("6.0")])), ["4.0", "5.0", "7.0"]);
});

test("an inserted vertical does not move the crew on", () => {
  assert.equal(presentOf(known([LEFT, read("4.0"), read("6.5", { inserted: true })])).tape, "5.0");
});

test("going back to a position left out leads on from there", () => {
  assert.equal(presentOf(known([LEFT, read("6.0"), read("4.0")])).tape, "5.0");
  assert.equal(presentOf(known([LEFT, read("6.0"), read("4.0"), read("5.0")])).tape, "7.0");
});

test("a tape position counts as read whatever its digits", () => {
  assert.equal(presentOf(known([LEFT, read("4.00")])).tape, "5.0");
});

test("from a start bank where the tape ends the positions fall", () => {
  const falling = { start: "right", growing: false, planned: ["7.0", "6.0", "5.0"] } as const;
  assert.equal(presentOf(known([RIGHT, read("7.0")], falling)).tape, "6.0");
  assert.equal(presentOf(known([RIGHT, read("6.3")], falling)).tape, "6.0");
});

test("a vertical begun and not read is asked for before the crew is sent to the bank", () => {
  const all = [LEFT, vertical("3.6"), read("4.0"), read("5.0"), read("6.0"), read("7.0")];
  const { tape, asked } = presentOf(known(all));
  assert.deepEqual([tape, asked], ["3.6", { ask: "depth" }]);
  assert.deepEqual(presentOf(known(all, { left: new Set(["v3.6"]) })).asked, { ask: "tape", edge: "right" });
});

test("the other edge is due after the last position, and after it nothing", () => {
  const all = [LEFT, read("4.0"), read("5.0"), read("6.0"), read("7.0")];
  assert.deepEqual(presentOf(known(all)).asked, { ask: "tape", edge: "right" });
  assert.deepEqual(presentOf(known([...all, RIGHT])).asked, { ask: "nothing" });
});

test("edges read before the verticals do not end the reading", () => {
  assert.equal(presentOf(known([LEFT, RIGHT])).tape, "4.0");
  const narrow = vertical("6.4", { edge: "right", bank: "sloping", depth: "0" });
  assert.deepEqual(presentOf(known([LEFT, read("4.0"), read("5.0"), read("6.0"), narrow])).asked, { ask: "nothing" });
});

test("without a plan the tape position is asked until the other edge is read", () => {
  const none = { planned: [] };
  assert.deepEqual(presentOf(known([LEFT], none)).asked, { ask: "tape", edge: null });
  assert.deepEqual(presentOf(known([LEFT, RIGHT], none)).asked, { ask: "tape", edge: null });
  assert.deepEqual(presentOf(known([LEFT, read("4.0")], none)).asked, { ask: "tape", edge: null });
  assert.deepEqual(presentOf(known([LEFT, read("4.0"), RIGHT], none)).asked, { ask: "nothing" });
});

test("the same step is offered while it stays between the edges", () => {
  const step = (...verticals: VerticalSaid[]) => sameStep({ channel: channel(...verticals), growing: true });
  assert.equal(step(LEFT, read("4.0")), null);
  assert.equal(step(LEFT, read("4.0"), read("5.5")), "7.0");
  assert.equal(step(LEFT, RIGHT, read("6.0"), read("7.5")), null);
  assert.equal(step(LEFT, read("5.5"), read("4.0")), null);
});

test("what the recorder chose goes before what is due", () => {
  const typing = presentOf(known([LEFT], { chosen: { go: "type", inserted: true } }));
  assert.deepEqual([typing.asked, typing.inserted], [{ ask: "tape", edge: null }, true]);
  const there = presentOf(known([LEFT], { chosen: { go: "tape", tape: "4.5", inserted: false } }));
  assert.deepEqual([there.tape, there.planned, there.asked], ["4.5", false, { ask: "depth" }]);
  const again = presentOf(known([LEFT, read("4.0"), read("5.0")], { chosen: { go: "again", vertical: "v4.0", fraction: 0.6 } }));
  assert.deepEqual([again.tape, again.asked.ask], ["4.0", "velocity"]);
});

test("a steep edge is asked for its tape position, then its depth, and no second edge is made", () => {
  const steep = { go: "edge", edge: "right", bank: "steep" } as const;
  const first = presentOf(known([LEFT], { chosen: { ...steep, tape: null } }));
  assert.deepEqual([first.asked, first.vertical], [{ ask: "tape", edge: "right" }, null]);
  const then = presentOf(known([LEFT, RIGHT], { chosen: { ...steep, tape: "8.8" } }));
  assert.deepEqual([then.asked, then.tape, then.vertical?.key], [{ ask: "depth" }, "8.8", "v9.0"]);
});

test("an edge that was said to be steep is asked for its depth, a sloping one is not", () => {
  const steep = vertical("3.0", { edge: "left", bank: "steep" });
  const { tape, asked } = presentOf(known([steep]));
  assert.deepEqual([tape, asked], ["3.0", { ask: "depth" }]);
  assert.equal(presentOf(known([{ ...steep, bank: "sloping" }])).tape, "4.0");
});

test("which way the tape grows comes from the plan, else the edges, else where its zero hangs", () => {
  assert.equal(growsFromStart(["7.0", "4.0"], channel(), "right", null), false);
  assert.equal(growsFromStart([], channel(LEFT, RIGHT), "right", "right"), false);
  assert.equal(growsFromStart([], channel(), "right", "left"), false);
  assert.equal(growsFromStart([], channel(), "right", "right"), true);
  assert.equal(growsFromStart([], channel(), "left", null), true);
});
