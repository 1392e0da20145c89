/** The printed picture stands true to the figures: sides, scales, and what was not measured. */

import assert from "node:assert/strict";
import { test } from "node:test";

import type { DrawnChannel, SectionDrawing } from "../note_view.ts";
import { figureOf, ticks } from "./note_figure.ts";

const CHANNEL: DrawnChannel = {
  title: "",
  banks: ["left", "right"],
  mirrored: false,
  unmeasured: [false, false],
  verticals: [
    { tape: 2, depth: 0, velocity: 0, measured: true, fractions: [] },
    { tape: 4, depth: 1, velocity: 0.5, measured: true, fractions: [0.6] },
    { tape: 8, depth: 2, velocity: 1, measured: false, fractions: [] },
    { tape: 12, depth: 0, velocity: 0, measured: true, fractions: [] },
  ],
  panels: [
    { start: 3, end: 6, share: 20, mark: "**" },
    { start: 6, end: 10, share: 80, mark: "**" },
  ],
};

function drawn(channel: Partial<DrawnChannel> = {}) {
  const whole = { ...CHANNEL, ...channel };
  const drawing: SectionDrawing = {
    units: { length: "ft", depth: "ft", velocity: "ft/s" },
    limits: { aim: 5, limit: 10 },
    rows: [{ key: "section 1", tape: "tape (ft)", channels: [whole] }],
  };
  return figureOf(drawing, drawing.rows[0]!);
}

test("panels are as wide as on the tape and as high as their shares", () => {
  const [first, second] = drawn().bars;
  assert.ok(Math.abs(second!.width / first!.width - 4 / 3) < 1e-9);
  assert.ok(Math.abs(second!.height / first!.height - 4) < 1e-9);
  assert.ok(first!.x + first!.width <= second!.x + 1e-9);
});

test("a tape that runs from right to left is turned round, so that left is on the left", () => {
  const mirrored = drawn({ mirrored: true, banks: ["right", "left"] });
  const [first, second] = mirrored.bars;
  assert.ok(first!.x > second!.x);
  const banks = mirrored.words.filter(({ bold }) => bold).sort((a, b) => a.at[0] - b.at[0]);
  assert.deepEqual(banks.map(({ text }) => text), ["left bank", "right bank"]);
});

test("a velocity that was not measured is an open mark, and a dry place has none", () => {
  const { dots } = drawn();
  assert.deepEqual(dots.map(({ full }) => full), [true, false]);
});

test("where no edge was measured there is no bank, and it is said", () => {
  const open = drawn({ unmeasured: [true, false] });
  assert.equal(open.lines.filter(({ kind }) => kind === "bank").length, 1);
  assert.equal(open.lines.filter(({ kind }) => kind === "open").length, 1);
  assert.ok(open.words.some(({ text }) => text === "edge not measured"));
});

test("the point at which a velocity was read is marked at its fraction of the depth", () => {
  const { lines } = drawn();
  const read = lines.filter(({ kind }) => kind === "read");
  const stem = lines.find(({ kind, from }) => kind === "stem" && from[0] === (read[0]!.from[0] + read[0]!.to[0]) / 2 && from[1] > 140)!;
  const part = (read[0]!.from[1] - stem.from[1]) / (stem.to[1] - stem.from[1]);
  assert.ok(Math.abs(part - 0.6) < 1e-9);
});

test("everything stands inside the picture, however odd the section", () => {
  const odd: Partial<DrawnChannel>[] = [
    {},
    { panels: [{ start: 3, end: 6, share: null, mark: "" }] },
    { verticals: [CHANNEL.verticals[1]!], panels: [] },
    { verticals: CHANNEL.verticals.map((one) => ({ ...one, velocity: -one.velocity })) },
    { verticals: CHANNEL.verticals.map((one) => ({ ...one, depth: 0 })), panels: [] },
  ];
  for (const channel of odd) {
    const figure = drawn(channel);
    const points = [
      ...figure.lines.flatMap(({ from, to }) => [from, to]),
      ...figure.dots.map(({ x, y }) => [x, y] as const),
      ...figure.words.map(({ at }) => at),
    ];
    for (const [x, y] of points) {
      assert.ok(x >= 0 && x <= figure.width && y >= 0 && y <= figure.height, `${x}, ${y}`);
    }
  }
});

test("ticks are round figures within the scale", () => {
  assert.deepEqual(ticks(0, 2.3, 3), [0, 1, 2]);
  assert.deepEqual(ticks(0, 0.46, 3), [0, 0.2, 0.4]);
  assert.deepEqual(ticks(-1, 1, 4), [-1, -0.5, 0, 0.5, 1]);
});
