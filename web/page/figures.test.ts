import assert from "node:assert/strict";
import { test } from "node:test";

import { compare, decimalsOf, further, isFigure, same } from "./figures.ts";

test("a figure is what people write as one, with digits on both sides of its point", () => {
  for (const text of ["0", "0.8", "-0.12", "14", "14.50", "100.05"]) assert.ok(isFigure(text), text);
  for (const text of ["", "-", ".8", "1.", "08", "-08", "1,5", "1e3", "1.2.3", " 1"]) {
    assert.ok(!isFigure(text), text);
  }
});

test("the digits behind the point are counted as they were written", () => {
  assert.equal(decimalsOf("14"), 0);
  assert.equal(decimalsOf("14.50"), 2);
});

test("figures are compared as numbers, whatever their digits", () => {
  assert.ok(same("14.5", "14.50"));
  assert.ok(same("-0", "0.0"));
  assert.ok(compare("9.9", "10") < 0);
  assert.ok(compare("-0.5", "-0.25") < 0);
  assert.ok(compare("0.3", "0.1") > 0);
});

test("a step further has no digits but those that were called", () => {
  assert.equal(further("0.3", "0.2", "0.1"), "0.4");
  assert.equal(further("14.5", "14.5", "13.5"), "15.5");
  assert.equal(further("4.0", "4.0", "5.25"), "2.75");
  assert.equal(further("0.5", "0.5", "1.5"), "-0.5");
  assert.equal(further("12", "12", "10"), "14");
});
