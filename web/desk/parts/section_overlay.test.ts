import assert from "node:assert/strict";
import { test } from "node:test";

import { mirrored, overlayOf, type Overlaid } from "./section_overlay.ts";

/** A bed that is deepest near the left bank, with the tape from either bank. */
function visit(name: string, more: Partial<Overlaid> = {}): Overlaid {
  return {
    gauging: name,
    name,
    zero_bank: "left",
    channels: [{ name: null, points: [[1, 0], [2, 1], [5, 0.5], [6, 0]] }],
    stage_m: null,
    ...more,
  };
}

const FROM_RIGHT = visit("turned", {
  zero_bank: "right",
  channels: [{ name: null, points: [[1, 0], [2, 0.5], [5, 1], [6, 0]] }],
});
const ROOM = { system: "m", width: 600, height: 300 } as const;

test("one scale holds for all: the same depth stands at the same height", () => {
  const [a, b] = overlayOf([visit("a"), visit("b", { channels: [{ name: null, points: [[1, 0], [2, 1], [3, 0]] }] })], {
    across: "tape",
    down: "water",
    ...ROOM,
  }).lines;
  assert.deepEqual(a!.dots[1], b!.dots[1]);
});

test("a section taped from the other bank is turned round, and lies on the first from the left edge", () => {
  const { lines } = overlayOf([visit("a"), FROM_RIGHT], { across: "edge", down: "water", ...ROOM });
  assert.deepEqual(lines[1]!.dots, lines[0]!.dots);
  assert.deepEqual(mirrored([visit("a"), visit("b"), FROM_RIGHT]), ["turned"]);
});

test("by the staff gauge the bed lies deeper by what the stage is lower, and who read none is left out", () => {
  const high = visit("high", { stage_m: 2 });
  const low = visit("low", { stage_m: 1.5 });
  const { lines, left_out } = overlayOf([high, low, visit("none")], { across: "tape", down: "gauge", ...ROOM });
  const depth = (line: number) => lines[line]!.dots[1]![1] - lines[line]!.water[0]![2];
  assert.ok(Math.abs(depth(0) - depth(1)) < 0.11);
  assert.ok(lines[1]!.water[0]![2] > lines[0]!.water[0]![2]);
  assert.deepEqual(left_out, ["none"]);
});

test("lines take turns in styles that need no colour, and a section of one point is left out", () => {
  const bare = visit("bare", { channels: [{ name: null, points: [[1, 0]] }] });
  const { lines, left_out } = overlayOf([visit("a"), bare, visit("b")], { across: "tape", down: "water", ...ROOM });
  assert.deepEqual(lines.map(({ style }) => style), [0, 2]);
  assert.deepEqual(left_out, ["bare"]);
});

test("ticks are round figures of the person's unit, at their own places", () => {
  const { across, plot } = overlayOf([visit("a")], { across: "tape", down: "water", ...ROOM, system: "ft" });
  assert.ok(across.every(({ text }) => Number.isInteger(Number(text))), across.map(({ text }) => text).join(" "));
  assert.ok(across.every(({ at }) => at >= plot.left && at <= plot.right));
});
