import assert from "node:assert/strict";
import { test } from "node:test";

import type { Entry, Value } from "../../journal/entry.ts";
import { fold } from "../../journal/fold.ts";
import { channelsOf } from "../section.ts";
import type { FindingView, VerticalView, View } from "../view.ts";
import { described, sketchOf, type Drawn } from "./section_sketch.ts";
import { nearest, shapeOf } from "./section_shape.ts";

function entries(said: Record<string, Value>): Entry[] {
  return Object.entries(said).map(([what, value], i) => ({
    id: `e${i}`,
    gauging: "g",
    device: "d",
    sequence: i + 1,
    at: "2026-07-14T10:00:00-07:00",
    what,
    value,
  }));
}

const V = "channels/1/verticals";
const SAID = {
  "units/length": "ft",
  "units/velocity": "ft/s",
  [`${V}/a/tape`]: "2.0",
  [`${V}/a/edge`]: "left",
  [`${V}/a/depth`]: "0",
  [`${V}/b/tape`]: "4.0",
  [`${V}/b/depth`]: "1.00",
  [`${V}/c/tape`]: "6.0",
  [`${V}/c/depth`]: "2.00",
};

function drawn(said: Record<string, Value>, more: Partial<Drawn> = {}): Drawn {
  const folded = fold(entries(said));
  return { folded, channel: channelsOf(folded)[0]!, view: null, fresh: false, ...more };
}

function viewWith(verticals: Partial<VerticalView>[], findings: Partial<FindingView>[] = []): View {
  return {
    verticals: verticals.map((vertical) => ({ channel: "1", ...vertical })),
    findings: findings.map((finding) => ({ open: true, ...finding })),
    share_limits: { aim: 5, limit: 10 },
  } as unknown as View;
}

const ROOM = { width: 352, height: 200, line: 16 };

test("the entries alone give depths and positions", () => {
  const sketch = sketchOf(drawn(SAID));
  assert.deepEqual(sketch.verticals.map(({ tape, depth, share }) => [tape, depth, share]), [[2, 0, null], [4, 1, null], [6, 2, null]]);
  assert.equal(sketch.lengthUnit, "ft");
});

test("a depth is told in the unit of the rod", () => {
  const sketch = sketchOf(drawn({ ...SAID, "units/depth": "m" }));
  assert.match(described(sketch), /Deepest 2 m at 6\.0\./);
  assert.match(described(sketch), /edge of water at 2\.0 ft/);
});

test("the left bank is on the left, whichever way the tape runs", () => {
  const right = { ...SAID, [`${V}/a/edge`]: "right", zero_bank: "right" };
  const [plain, turned] = [SAID, right].map((said) => shapeOf(sketchOf(drawn(said)), ROOM));
  assert.ok(plain!.x(2) < plain!.x(6));
  assert.ok(turned!.x(2) > turned!.x(6));
});

test("edges that were read go before the bank at which the tape's zero was said to hang", () => {
  const said = { ...SAID, zero_bank: "right", [`${V}/d/tape`]: "8.0", [`${V}/d/edge`]: "right" };
  assert.equal(sketchOf(drawn(said)).mirrored, false);
});

test("the deepest vertical reaches the foot of the picture, half the depth half as far", () => {
  const shape = shapeOf(sketchOf(drawn(SAID)), ROOM);
  const [edge, half, whole] = shape.verticals.map(({ bed }) => bed! - shape.surface);
  assert.equal(edge, 0);
  assert.ok(Math.abs(whole! - 2 * half!) < 1e-9);
  assert.equal(shape.verticals[2]!.bed, shape.deepest);
});

test("panels are hatched by their share as it is shown, against the limits of the view", () => {
  const view = viewWith([
    { key: "b", start: 3, end: 5, share: 5.04 },
    { key: "c", start: 5, end: 6, share: 10.06 },
  ]);
  const { panels, shares } = shapeOf(sketchOf(drawn(SAID, { view, fresh: true })), ROOM);
  assert.deepEqual(panels.map(({ hatch }) => hatch), ["none", "above limit"]);
  assert.deepEqual(shares.map(({ text }) => text), ["10.1", "5.0"]);
});

test("shares of an earlier state are not shown as figures", () => {
  const view = viewWith([{ key: "c", start: 5, end: 6, share: 10.06 }]);
  const sketch = sketchOf(drawn(SAID, { view, fresh: false }));
  assert.deepEqual(shapeOf(sketch, ROOM).shares, []);
  assert.doesNotMatch(described(sketch), /share/);
});

test("a vertical bears the gravest of its open questions", () => {
  const view = viewWith([], [
    { severity: "explain", verticals: ["b"] },
    { severity: "stop", verticals: ["b", "c"] },
    { severity: "stop", verticals: ["a"], open: false },
  ]);
  const sketch = sketchOf(drawn(SAID, { view }));
  assert.deepEqual(sketch.verticals.map(({ asked }) => asked), [null, "stop", "stop"]);
});

test("the essentials are told in words", () => {
  const view = viewWith([{ key: "c", velocity: 1.234, share: 60, start: 5, end: 6 }]);
  const words = described(sketchOf(drawn(SAID, { view, fresh: true, toCome: ["7.0", "8.0"], present: "7.0" })));
  assert.equal(
    words,
    "Section, looking downstream. Left edge of water at 2.0 ft. 2 verticals read. Deepest 2 ft at 6.0. " +
      "Fastest 1.23 ft/s at 6.0. Largest share 60.0 % at 6.0. 2 planned positions to come. The crew is at 7.0 ft.",
  );
});

test("a touch picks the vertical nearest to it", () => {
  const shape = shapeOf(sketchOf(drawn(SAID)), ROOM);
  assert.equal(nearest(shape, shape.x(4.4))?.key, "b");
  assert.equal(nearest(shapeOf(sketchOf(drawn({})), ROOM), 10), null);
});

test("a dry place is drawn where the bed meets the water", () => {
  const said = { ...SAID, [`${V}/d/tape`]: "5.0", [`${V}/d/dry`]: true };
  const shape = shapeOf(sketchOf(drawn(said)), ROOM);
  assert.equal(shape.verticals[2]!.bed, shape.surface);
});

test("no bed is drawn across positions that are not read yet", () => {
  const said = { ...SAID, [`${V}/d/tape`]: "9.0", [`${V}/d/edge`]: "right", [`${V}/d/depth`]: "0" };
  const shape = shapeOf(sketchOf(drawn(said, { toCome: ["7.0", "8.0"] })), ROOM);
  const [from, to] = [shape.x(2), shape.x(6)].map((x) => x.toFixed(1).replace(/\.0$/, ""));
  assert.match(shape.water, new RegExp(`^M${from},.* L${to},[^ ]* Z$`));
});
