import assert from "node:assert/strict";
import { test } from "node:test";

import { closeTo, graduation, marksBetween, placeOf, valueAt, wholeStep } from "./graduation.ts";
import { offsets, POINTS } from "./water_line.ts";

test("a foot has nine marks between its ends, the fifth a half", () => {
  const marks = marksBetween("ft", 1, 2);

  assert.equal(marks.length, 11);
  assert.deepEqual(marks.map(({ kind }) => kind).filter((kind) => kind !== "single"), [
    "whole",
    "half",
    "whole",
  ]);
  assert.deepEqual(marks[5], { value: 1.5, kind: "half", numeral: null });
  assert.deepEqual(marks[10], { value: 2, kind: "whole", numeral: "2" });
});

test("a metre tape has numerals at every tenth of a metre", () => {
  const numerals = marksBetween("m", 3.05, 3.31).flatMap(({ numeral }) => numeral ?? []);

  assert.deepEqual(numerals, ["3.1", "3.2", "3.3"]);
});

test("no scale goes below its zero", () => {
  assert.equal(marksBetween("cm", -3, 2)[0]?.value, 0);
});

test("a close view shows the value and a numeral to count from, wherever it lies", () => {
  for (const unit of ["ft", "cm", "m"] as const) {
    for (let number = 0; number < 400; number++) {
      const value = (number * graduation(unit)) / 2;
      for (const off of [-1, -0.3, 0, 0.8, 1]) {
        const stretch = closeTo(unit, value, off, 300);
        const at = placeOf(stretch, value);
        assert.ok(at > 0 && at < 300);
        assert.ok(Math.abs(valueAt(stretch, at) - value) < 1e-9);
        const marks = marksBetween(unit, stretch.from, stretch.to);
        assert.ok(marks.some(({ numeral }) => numeral !== null), `${unit} ${value} ${off}`);
        assert.ok(wholeStep(unit) > 9 * graduation(unit));
      }
    }
  }
});

test("the mean of the ripple is the level, at every moment", () => {
  for (let seconds = 0; seconds < 5; seconds += 0.37) {
    const line = offsets({ height: 9, phase: 0.3, pileUp: 6 }, seconds);
    const mean = line.slice(0, -1).reduce((sum, offset) => sum + offset, 0) / (POINTS - 1);

    assert.ok(Math.abs(mean) < 0.01, String(mean));
    assert.ok(Math.max(...line) > 5);
  }
});
