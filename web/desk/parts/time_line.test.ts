import assert from "node:assert/strict";
import { test } from "node:test";

import { timeLine, type Moment } from "./time_line.ts";

const moment = (id: string, at: string, value: number): Moment => ({ id, at, value, text: String(value) });
const ROOM = { width: 400, height: 160, fromZero: true };

test("days stand in their order and at their distances, whatever order they come in", () => {
  const { dots } = timeLine([moment("c", "2026-07-11", 1), moment("a", "2026-07-01", 1), moment("b", "2026-07-06", 1)], ROOM);
  assert.deepEqual(dots.map(({ id }) => id), ["a", "b", "c"]);
  assert.ok(Math.abs(dots[1]!.x - dots[0]!.x - (dots[2]!.x - dots[1]!.x)) < 12);
});

test("values rise from zero, twice the value twice as high", () => {
  const { dots, plot } = timeLine([moment("a", "2026-07-01", 1), moment("b", "2026-07-09", 2)], ROOM);
  const high = (i: number) => plot.bottom - dots[i]!.y;
  assert.ok(Math.abs(high(1) - 2 * high(0)) < 0.3);
});

test("a single visit and visits that are alike have their place", () => {
  const one = timeLine([moment("a", "2026-07-01", 0)], { ...ROOM, fromZero: false });
  assert.equal(one.path, "");
  assert.ok(Number.isFinite(one.dots[0]!.x) && Number.isFinite(one.dots[0]!.y));
});

test("figures that would lie on one another are not written, their dots stay", () => {
  const moments = ["2026-07-01", "2026-07-02", "2026-07-30"].map((at, i) => moment(String(i), at, i));
  assert.deepEqual(timeLine(moments, ROOM).dots.map(({ named }) => named), [true, false, true]);
});
